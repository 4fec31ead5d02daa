#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "files/tables.h"

namespace withy {
namespace {

using plan::NodeRef;
using plan::Tree;
using plan::TreeKind;

// Where the parser stands. It reads one character after another through this.
struct Cursor {
  uint32_t line = 1, column = 0;
};

class TrackedText {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;
  TrackedText(const char* at, Cursor* cursor) : at_(at), cursor_(cursor) {}
  const char& operator*() const { return *at_; }
  TrackedText& operator++() {
    if (*at_ == '\n') ++cursor_->line, cursor_->column = 0;
    else if ((static_cast<unsigned char>(*at_) & 0xC0) != 0x80) ++cursor_->column;
    ++at_;
    return *this;
  }
  TrackedText operator++(int) {
    TrackedText before = *this;
    ++*this;
    return before;
  }
  friend bool operator==(const TrackedText& a, const TrackedText& b) { return a.at_ == b.at_; }
  friend bool operator!=(const TrackedText& a, const TrackedText& b) { return !(a == b); }

 private:
  const char* at_;
  Cursor* cursor_;
};

// Keeps the path of keys and builds each feature's mapping as its properties and coordinates pass by: no
// tree of the whole file stands in memory.
class FeatureHandler {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  FeatureHandler(const std::string& name, Tree& tree, Cursor& cursor, NodeRef features)
      : name_(name), tree_(tree), cursor_(cursor), features_(features) {}

  bool null() { return value("", true); }
  bool boolean(bool b) { return value(b ? "yes" : "no"); }
  bool number_integer(number_integer_t n) { return value(std::to_string(n)); }
  bool number_unsigned(number_unsigned_t n) { return value(std::to_string(n)); }
  bool number_float(number_float_t, const string_t& text) { return value(text); }
  bool binary(binary_t&) { return false; }
  bool string(string_t& text) {
    if (in_geometry() && key_ == "type") {
      geometry_ = text;
      if (text != "Point" && text != "LineString") return fault(fmt::format("geometry '{}' is not Point or LineString", text.substr(0, 40)));
      return true;
    }
    return value(text);
  }
  bool start_object(std::size_t) {
    if (++depth_ > most_depth) return fault("nested too deep");
    keys_.push_back(key_);
    if (keys_.size() == 2 && in_feature()) begin_feature();
    else if (in_properties() && keys_.size() > 3) return fault(fmt::format("property '{}' is not a plain value", keys_.back()));
    return true;
  }
  bool key(string_t& text) {
    key_ = text;
    return true;
  }
  bool end_object() {
    --depth_;
    if (in_geometry() && !end_geometry()) return false;
    if (keys_.size() == 2 && in_feature()) tree_.append(features_, feature_);
    key_ = keys_.back();
    keys_.pop_back();
    return true;
  }
  bool start_array(std::size_t) {
    if (++depth_ > most_depth) return fault("nested too deep");
    if (keys_.size() == 1 && key_ == "features") seen_features = true;
    if (in_geometry() && key_ == "coordinates") open_coordinates();
    else if (in_properties()) return fault(fmt::format("property '{}' is not a plain value", key_));
    return true;
  }
  bool end_array() {
    --depth_;
    if (!coordinates_.empty()) coordinates_.pop_back();
    return true;
  }
  bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) {
    return fault("not well-formed JSON here");
  }

  plan::Diagnostics faults;
  bool seen_features = false;

 private:
  static constexpr int most_depth = 16;

  bool fault(std::string message) {
    faults.push_back({{name_, cursor_.line, std::max(1u, cursor_.column)}, std::move(message), "", 1});
    return false;
  }
  // The key path: keys_[0] is the file, [1] "features", [2] "properties" or "geometry".
  bool in_feature() const { return keys_.size() >= 2 && keys_[1] == "features"; }
  bool in_properties() const { return in_feature() && keys_.size() >= 3 && keys_[2] == "properties"; }
  bool in_geometry() const { return in_feature() && keys_.size() == 3 && keys_[2] == "geometry"; }

  void begin_feature() {
    feature_ = tree_.add(TreeKind::mapping, "", cursor_.line, std::max(1u, cursor_.column));
    geometry_.clear();
    coordinate_root_ = {};
  }
  bool end_geometry() {
    if (!coordinate_root_.valid() || geometry_.empty()) return fault("geometry without type or coordinates");
    append(geometry_ == "Point" ? "at" : "line", coordinate_root_);
    return true;
  }
  NodeRef append(std::string_view key, NodeRef child) {
    const NodeRef pair = tree_.add(TreeKind::pair, key, cursor_.line, std::max(1u, cursor_.column));
    tree_.append(pair, child);
    tree_.append(feature_, pair);
    return child;
  }
  void open_coordinates() {
    const NodeRef list = tree_.add(TreeKind::list, "", cursor_.line, std::max(1u, cursor_.column));
    if (coordinates_.empty()) coordinate_root_ = list;
    else tree_.append(coordinates_.back(), list);
    coordinates_.push_back(list);
  }
  bool value(const std::string& text, bool is_null = false) {
    if (!coordinates_.empty()) {
      tree_.append(coordinates_.back(), tree_.add(TreeKind::scalar, text, cursor_.line, column_of(text)));
      return true;
    }
    if (in_properties() && keys_.size() == 3 && !is_null)
      append(key_, tree_.add(TreeKind::scalar, text, cursor_.line, column_of(text)));
    return true;
  }
  uint32_t column_of(const std::string& text) const {
    return cursor_.column > text.size() ? cursor_.column - static_cast<uint32_t>(text.size()) : 1;
  }

  const std::string& name_;
  Tree& tree_;
  Cursor& cursor_;
  NodeRef features_, feature_, coordinate_root_;
  std::vector<std::string> keys_;
  std::vector<NodeRef> coordinates_;
  std::string key_, geometry_;
  int depth_ = 0;
};

}  // namespace

plan::Result<NodeRef> geojson_table(const std::string& name, std::string text, Tree& into) {
  if (!plan::valid_utf8(text)) return {{}, {{{name, 0, 0}, "not UTF-8 text", "", 1}}};
  into.select_file(into.add_file(name, ""));
  const NodeRef features = into.add(TreeKind::list, "", 1, 1);
  Cursor cursor;
  FeatureHandler handler(name, into, cursor, features);
  const TrackedText first(text.data(), &cursor), last(text.data() + text.size(), &cursor);
  nlohmann::json::sax_parse(first, last, &handler);
  if (handler.faults.empty() && !handler.seen_features)
    handler.faults.push_back({{name, 1, 1}, "no FeatureCollection with 'features'", "", 1});
  if (!handler.faults.empty()) return {{}, handler.faults};
  return plan::good(features);
}

}  // namespace withy
