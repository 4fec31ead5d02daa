#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "files/json_cursor.h"
#include "files/table_faults.h"
#include "files/tables.h"

namespace withy {
namespace {

using plan::NodeRef;
using plan::shown;
using plan::Tree;
using plan::TreeKind;

// How deep a part stands: the file's object, its list of features, a feature, its properties or geometry.
enum Level : int { file_level = 1, list_level, feature_level, part_level };
constexpr int most_depth = 16;
enum class Part : uint8_t { none, properties, geometry };

// Builds each feature's mapping as its properties and coordinates pass by: no tree of the whole file
// stands in memory. What is wrong with one feature is noted and the next one is looked at.
class FeatureHandler {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  FeatureHandler(const std::string& name, TableBlocks& blocks, JsonCursor& cursor)
      : faults(name), blocks_(blocks), tree_(blocks.tree()), cursor_(cursor) {}

  bool null() { return value(TreeKind::null, ""); }
  bool boolean(bool b) { return value(TreeKind::scalar, b ? "yes" : "no", true); }
  bool number_integer(number_integer_t n) { return value(TreeKind::scalar, std::to_string(n)); }
  bool number_unsigned(number_unsigned_t n) { return value(TreeKind::scalar, std::to_string(n)); }
  bool number_float(number_float_t, const string_t& text) { return value(TreeKind::scalar, text); }
  bool binary(binary_t&) { return false; }
  bool string(string_t& text) {
    if (depth_ == file_level && key_ == "type" && text != "FeatureCollection")
      return note(fmt::format("the file is a '{}', expected a FeatureCollection", shown(text)));
    if (depth_ == part_level && part_ == Part::geometry && key_ == "type") return geometry_type(text);
    return value(TreeKind::scalar, text, true);
  }
  bool key(string_t& text) {
    key_ = text;
    return true;
  }

  bool start_object(std::size_t) {
    if (++depth_ > most_depth) return too_deep();
    if (depth_ == list_level && key_ == "features") return note("'features' is an object, expected a list");
    if (!in_features_) return true;
    if (depth_ == feature_level) return begin_feature();
    if (depth_ == part_level) return begin_part();
    if (depth_ == part_level + 1 && part_ == Part::properties) return no_plain_value();
    return true;
  }
  bool end_object() {
    const int left = depth_--;
    if (!in_features_) return true;
    if (left == part_level && part_ == Part::geometry) end_geometry();
    if (left == part_level) part_ = Part::none;
    if (left == feature_level) blocks_.add(feature_, faults.none());
    return true;
  }
  bool start_array(std::size_t) {
    if (++depth_ > most_depth) return too_deep();
    if (depth_ == file_level) return note("the file is a list, expected a FeatureCollection");
    if (depth_ == list_level && key_ == "features") seen_features = in_features_ = true;
    if (!in_features_) return true;
    if (depth_ == feature_level) return note("a feature is a list, expected an object");
    if (depth_ == part_level + 1 && part_ == Part::properties) return no_plain_value();
    if (depth_ > part_level && part_ == Part::geometry && key_ == "coordinates") open_coordinates();
    return !too_many();
  }
  bool end_array() {
    const int left = depth_--;
    if (left == list_level) in_features_ = false;
    if (!coordinates_.empty()) coordinates_.pop_back();
    return true;
  }
  bool parse_error(std::size_t, const std::string& token, const nlohmann::json::exception& e) {
    constexpr int out_of_range = 406;
    const plan::Place at{"", cursor_.here().line, cursor_.here().column};
    faults.add(at.line, at.column,
               e.id == out_of_range ? fmt::format("number {} is out of range", shown(token))
               : cursor_.ended()    ? "the file ends before its JSON does"
                                    : "not well-formed JSON here");
    return false;
  }

  TableFaults faults;
  bool seen_features = false;

 private:
  bool note(std::string message) {
    faults.add(cursor_.here().line, cursor_.here().column, std::move(message));
    return !faults.full();
  }
  bool too_deep() { return note(fmt::format("nested deeper than {} levels", most_depth)) && false; }
  bool too_many() { return blocks_.too_many() && (note(too_many_values()), true); }
  bool no_plain_value() { return note(fmt::format("property '{}' is no plain value", shown(key_))); }

  bool begin_feature() {
    feature_ = tree_.add(TreeKind::mapping, "", cursor_.here().line, cursor_.here().column);
    return !too_many();
  }
  bool begin_part() {
    part_ = key_ == "properties" ? Part::properties : key_ == "geometry" ? Part::geometry : Part::none;
    geometry_.clear();
    coordinate_root_ = {};
    return true;
  }
  bool geometry_type(const std::string& text) {
    geometry_ = text;
    if (text == "Point" || text == "LineString") return true;
    faults.add(cursor_.token().line, cursor_.token().column,
               fmt::format("geometry '{}', expected Point or LineString", shown(text)));
    return !faults.full();
  }
  void end_geometry() {
    if (!coordinate_root_.valid() || geometry_.empty())
      note("geometry without type or coordinates");
    else
      tree_.add_entry(feature_, geometry_ == "Point" ? "at" : "line", coordinate_root_);
  }
  void open_coordinates() {
    const NodeRef list = tree_.add(TreeKind::list, "", cursor_.here().line, cursor_.here().column);
    if (coordinates_.empty())
      coordinate_root_ = list;
    else
      tree_.append(coordinates_.back(), list);
    coordinates_.push_back(list);
  }
  bool value(TreeKind kind, const std::string& text, bool quoted = false) {
    if (in_features_ && depth_ == list_level) return note("a feature is a plain value, expected an object");
    const bool property = depth_ == part_level && part_ == Part::properties && kind != TreeKind::null;
    if (coordinates_.empty() && !property) return true;
    const NodeRef n = tree_.add(kind, text, cursor_.token().line, cursor_.token().column, quoted);
    if (property)
      tree_.add_entry(feature_, key_, n);
    else
      tree_.append(coordinates_.back(), n);
    return !too_many();
  }

  TableBlocks& blocks_;
  Tree& tree_;
  JsonCursor& cursor_;
  NodeRef feature_, coordinate_root_;
  std::vector<NodeRef> coordinates_;  // the lists that are open
  std::string key_, geometry_;
  Part part_ = Part::none;
  bool in_features_ = false;
  int depth_ = 0;
};

}  // namespace

plan::Diagnostics geojson_table(const std::string& name, std::string_view text, const plan::RowSink& rows) {
  if (plan::Diagnostics refused = refuse_bytes(name, text); !refused.empty()) return refused;
  TableBlocks blocks(name, rows);
  JsonCursor cursor(text);
  FeatureHandler handler(name, blocks, cursor);
  const TrackedText first(text.data(), &cursor), last(text.data() + text.size(), &cursor);
  nlohmann::json::sax_parse(first, last, &handler);
  if (handler.faults.none() && !handler.seen_features)
    handler.faults.add(1, 1, "no FeatureCollection with 'features'");
  if (handler.faults.none()) blocks.hand_over();
  return handler.faults.take();
}

}  // namespace withy
