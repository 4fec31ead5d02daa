// A table of an estate being written: rows in the scenario's own words, as GeoJSON or as CSV, one after
// another into a sink; no more than a row stands in memory.
//
//   EstateTable t(sink, TableKind::geojson, {{"name"}, {"dwellings", true}}, {"EPSG:32632", ""});
//   t.point({"12 Alder Lane", "4"}, {12'500, 40'000});
//   t.end();
//
// Positions are whole millimetres and are written in metres. An empty value is a key not given. A text is
// cut at 200 bytes and its control characters become spaces: the scenario reader refuses others. GeoJSON
// names the plane in the member `crs` of the format's first edition (2008), which GIS programs still
// read; RFC 7946 knows longitude and latitude alone.
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "base/point.h"

namespace withy {

enum class TableKind : uint8_t { geojson, csv };
// ".geojson" or ".csv"
std::string_view ending(TableKind kind);

class EstateTable {
 public:
  struct Column {
    std::string_view key;
    bool number = false;
    bool own = false;  // a text of ours: needs no guard against spreadsheets
  };
  struct Says {
    std::string plane;  // "EPSG:32632"; empty where none is known
    std::string note;   // a member `note` of GeoJSON; empty = none
    bool lines = false;
  };
  EstateTable(plan::Sink sink, TableKind kind, std::vector<Column> columns, Says says);

  // Values in the order of the columns; `heights` in mm beside the points of `line`, or empty.
  void point(std::span<const std::string> values, plan::Point at);
  void line(std::span<const std::string> values, std::span<const plan::Point> line,
            std::span<const int32_t> heights = {});
  void end();

 private:
  void begin_feature(std::span<const std::string> values, std::string_view geometry);
  void begin_row(std::span<const std::string> values);
  void drain();
  plan::Sink sink_;
  TableKind kind_;
  std::vector<Column> columns_;
  std::string block_;
  bool first_ = true;
};

// "12.5", from millimetres; no more digits than needed.
std::string metres_of(int64_t millimetres);
// `text` as a value of a table: trimmed, without control characters, at most 200 bytes of whole characters.
std::string clean_text(std::string_view text);
// A JSON text with its quotes.
std::string json_text(std::string_view text);

}  // namespace withy
