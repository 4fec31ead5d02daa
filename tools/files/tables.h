// Table files as the scenario's own words: a CSV or GeoJSON file becomes a list of mappings in a Tree,
// with row and column of every field, and is then read by the same descriptor tables as inline rows.
//
// CSV: the header row holds the keys; `x` and `y` together make `at: [x, y]`; `line` holds
// "x y, x y, …"; an empty field is a key not given. GeoJSON (RFC 7946): properties are the keys, a
// Point becomes `at`, a LineString `line`; other geometries are refused by name.
#pragma once
#include <string>

#include "scenario/scenario.h"

namespace withy {

// Faults name the file, row and column. `text` is checked to be UTF-8 first.
plan::Result<plan::NodeRef> csv_table(const std::string& name, std::string text, plan::Tree& into);
plan::Result<plan::NodeRef> geojson_table(const std::string& name, std::string text, plan::Tree& into);

// By the ending of the path: .csv or .geojson.
plan::Result<plan::NodeRef> table_of(const std::string& path, std::string text, plan::Tree& into);
// Texts up to 64 MiB, tables up to 2 GiB; a larger one is refused before it is read.
plan::Result<std::string> read_scenario_text(const std::string& path);
plan::Result<std::string> read_table_text(const std::string& path);

// What the scenario reader asks for, from the disk.
plan::Files disk_files();

}  // namespace withy
