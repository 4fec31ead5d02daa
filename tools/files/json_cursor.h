// Where a parser that does not say so stands in a JSON text. Private to the GeoJSON reader.
//
// The parser moves a bare pointer along (TrackedText); lines and columns are counted only up to where
// somebody asks, in one tight loop over what has passed since the last question.
#pragma once
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <string_view>

namespace withy {

struct JsonPlace {
  uint32_t line = 1, column = 0;  // columns in characters, from 1
};

class JsonCursor {
 public:
  explicit JsonCursor(std::string_view text)
      : read(text.data()), counted_(read), end_(text.data() + text.size()) {}
  JsonPlace here() { return count(), here_; }    // of the last character read
  JsonPlace token() { return count(), token_; }  // where the last text, number or word begins
  bool ended() const { return read == end_; }    // the last character of all has been read

  const char* read;  // behind the last character read

 private:
  void count() {
    for (; counted_ < read; ++counted_) pass(*counted_);
  }
  void pass(char c) {
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
    const bool between = c == ' ' || c == ',' || c == ':' || c == '[' || c == ']' || c == '{' || c == '}' ||
                         c == '\n' || c == '\r' || c == '\t';
    in_text_ = c == '"';
    if (in_text_ || (!between && between_)) token_ = here_;
    between_ = between;
  }

  const char* counted_;
  const char* end_;
  JsonPlace here_, token_;
  bool in_text_ = false, escaped_ = false, between_ = true;
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
    cursor_->read = ++at_;
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
