#include "estate/estate_table.h"

#include <fmt/core.h>

#include <cstdlib>

#include "base/text.h"

namespace withy {
namespace {

constexpr size_t longest_text = 200;
constexpr size_t block_bytes = size_t{1} << 16;

void append_csv_text(std::string& out, std::string_view text, bool own) {
  // A spreadsheet would take the text for a formula.
  const bool guard =
      !own && !text.empty() && std::string_view("=+-@").find(text[0]) != std::string_view::npos;
  if (text.find_first_of(",\"") == std::string_view::npos) {
    if (guard) out += '\'';
    out += text;
    return;
  }
  out += guard ? "\"'" : "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  out += '"';
}

}  // namespace

std::string_view ending(TableKind kind) {
  return kind == TableKind::csv ? ".csv" : ".geojson";
}

std::string metres_of(int64_t millimetres) {
  const int64_t whole = std::abs(millimetres) / 1000, rest = std::abs(millimetres) % 1000;
  std::string text = millimetres < 0 ? "-" : "";
  text += std::to_string(whole);
  if (rest == 0) return text;
  const char digits[] = {'.', static_cast<char>('0' + rest / 100), static_cast<char>('0' + rest / 10 % 10),
                         static_cast<char>('0' + rest % 10)};
  text.append(digits, sizeof digits);
  while (text.back() == '0') text.pop_back();
  return text;
}

std::string clean_text(std::string_view text) {
  text = text.substr(0, plan::utf8_bytes(text.substr(0, longest_text)));
  std::string out(plan::trimmed(text));
  for (char& c : out)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
  return std::string(plan::trimmed(out));
}

std::string json_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (static_cast<unsigned char>(c) < 0x20)
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else
      out += c;
  }
  return out + '"';
}

EstateTable::EstateTable(plan::Sink sink, TableKind kind, std::vector<Column> columns, Says says)
    : sink_(std::move(sink)), kind_(kind), columns_(std::move(columns)) {
  if (kind_ == TableKind::csv) {
    for (const Column& c : columns_) block_ += std::string(c.key) + ',';
    block_ += says.lines ? "line\r\n" : "x,y\r\n";
    return;
  }
  block_ = "{\"type\":\"FeatureCollection\",";
  if (!says.note.empty()) block_ += "\"note\":" + json_text(says.note) + ',';
  if (says.plane.starts_with("EPSG:"))
    block_ +=
        fmt::format("\"crs\":{{\"type\":\"name\",\"properties\":{{\"name\":\"urn:ogc:def:crs:EPSG::{}\"}}}},",
                    says.plane.substr(5));
  block_ += "\"features\":[";
}

void EstateTable::begin_row(std::span<const std::string> values) {
  for (size_t i = 0; i < columns_.size(); ++i) {
    const auto& [key, number, own] = columns_[i];
    append_csv_text(block_, number ? values[i] : clean_text(values[i]), own || number);
    block_ += ',';
  }
}

void EstateTable::begin_feature(std::span<const std::string> values, std::string_view geometry) {
  block_ += first_ ? "\n" : ",\n";
  block_ += "{\"type\":\"Feature\",\"properties\":{";
  bool first = true;
  for (size_t i = 0; i < columns_.size(); ++i) {
    const std::string value = columns_[i].number ? values[i] : clean_text(values[i]);
    if (value.empty()) continue;
    if (!first) block_ += ',';
    first = false;
    block_ += fmt::format("\"{}\":", columns_[i].key);
    block_ += columns_[i].number ? value : json_text(value);
  }
  block_ += fmt::format("}},\"geometry\":{{\"type\":\"{}\",\"coordinates\":", geometry);
}

void EstateTable::point(std::span<const std::string> values, plan::Point at) {
  if (kind_ == TableKind::csv) {
    begin_row(values);
    block_ += metres_of(at.x) + ',' + metres_of(at.y) + "\r\n";
  } else {
    begin_feature(values, "Point");
    block_ += '[' + metres_of(at.x) + ',' + metres_of(at.y) + "]}}";
  }
  drain();
}

void EstateTable::line(std::span<const std::string> values, std::span<const plan::Point> line,
                       std::span<const int32_t> heights) {
  const bool csv = kind_ == TableKind::csv;
  if (csv)
    begin_row(values);
  else
    begin_feature(values, "LineString");
  block_ += csv ? '"' : '[';
  const char between = csv ? ' ' : ',';
  for (size_t i = 0; i < line.size(); ++i) {
    if (i > 0) block_ += csv ? ", " : ",";
    if (!csv) block_ += '[';
    block_ += metres_of(line[i].x) + between + metres_of(line[i].y);
    if (!heights.empty()) block_ += between + metres_of(heights[i]);
    if (!csv) block_ += ']';
  }
  block_ += csv ? "\"\r\n" : "]}}";
  drain();
}

void EstateTable::drain() {
  first_ = false;
  if (block_.size() < block_bytes) return;
  sink_(block_);
  block_.clear();
}

void EstateTable::end() {
  if (kind_ == TableKind::geojson) block_ += "\n]}\n";
  sink_(block_);
  block_.clear();
}

}  // namespace withy
