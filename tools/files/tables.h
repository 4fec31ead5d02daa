// Table files as the scenario's own words: the rows of a CSV or GeoJSON file become mappings in a Tree,
// with row and column of every field, and are read by the same descriptor tables as inline rows. They are
// handed over in blocks (TableBlocks), so a million premises take the memory of a few thousand; once the
// file has a fault no further block is.
//
// CSV: the header row holds the keys; `x` and `y` together make `at: [x, y]`; `line` holds
// "x y, x y, …"; an empty field is a key not given. GeoJSON (RFC 7946): properties are the keys, a
// Point becomes `at`, a LineString `line`; other geometries are refused by name.
#pragma once
#include <functional>
#include <string>

#include "scenario/scenario.h"

namespace withy {

// Faults name the file, row and column. `text` is checked to be UTF-8 first.
plan::Diagnostics csv_table(const std::string& name, std::string_view text, const plan::RowSink& rows);
plan::Diagnostics geojson_table(const std::string& name, std::string_view text, const plan::RowSink& rows);

// By the ending of the path: .csv or .geojson.
plan::Diagnostics read_table(const std::string& path, std::string_view text, const plan::RowSink& rows);
// Texts up to 64 MiB, tables up to 2 GiB; a larger one is refused before it is read.
plan::Result<std::string> read_scenario_text(const std::string& path);
plan::Result<std::string> read_table_text(const std::string& path);

// A table file on the disk: .csv, .geojson, or a layer of a .gpkg (files/geopackage.h). `seen` is called with
// the bytes of the file before its rows are.
struct TableFile {
  std::string path;
  std::string_view layer;
};
plan::Diagnostics read_table_file(const TableFile& file, const plan::RowSink& rows,
                                  const std::function<void(std::string_view bytes)>& seen);

// What the scenario reader asks for, from the disk.
plan::Files disk_files();

}  // namespace withy
