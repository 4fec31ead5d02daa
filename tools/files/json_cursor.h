// A JSON text that is read one character after another and knows at which line and column it stands, for
// a parser that says neither. Private to the GeoJSON reader.
#pragma once
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <string_view>

namespace withy {

struct JsonPlace {
  uint32_t line = 1, column = 0;  // columns in characters, from 1
};

// Follows the characters as they pass by.
class JsonCursor {
 public:
  explicit JsonCursor(const char* end) : end_(end) {}
  void pass(const char* at) {
    const char c = *at;
    ended_ = at + 1 == end_;
    if (c == '\n')
      ++here_.line, here_.column = 0;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80)
      ++here_.column;
    if (in_text_) {
      if (escaped_)
        escaped_ = false;
      else if (c == '\\')
        escaped_ = true;
      else if (c == '"')
        in_text_ = false;
      return;
    }
    const bool between = std::string_view(" \t\r\n,:[]{}").find(c) != std::string_view::npos;
    in_text_ = c == '"';
    if (in_text_ || (!between && between_)) token_ = here_;
    between_ = between;
  }
  JsonPlace here() const { return here_; }    // of the last character read
  JsonPlace token() const { return token_; }  // where the last text, number or word begins
  bool ended() const { return ended_; }       // the last character of all has been read

 private:
  const char* end_;
  JsonPlace here_, token_;
  bool in_text_ = false, escaped_ = false, between_ = true, ended_ = false;
};

class TrackedText {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;
  TrackedText(const char* at, JsonCursor* cursor) : at_(at), cursor_(cursor) {}
  const char& operator*() const { return *at_; }
  TrackedText& operator++() {
    cursor_->pass(at_);
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
  JsonCursor* cursor_;
};

}  // namespace withy
