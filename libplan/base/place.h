// Where a thing was said, and what is wrong with it.
//
//   village.yaml:12:9: unknown key 'surfce', did you mean 'surface'
//       surfce: verge
//       ^~~~~~
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace plan {

// Line and column count from 1; the column counts characters, not bytes. For a table row the line is
// the row of the file and the column the field.
struct Place {
  std::string file;
  uint32_t line = 0;
  uint32_t column = 0;
  friend bool operator==(const Place&, const Place&) = default;
};

struct Diagnostic {
  Place place;
  std::string message;      // lower-case start, no full stop
  std::string source_line;  // empty where there is none to show
  uint32_t width = 1;       // characters the caret marks
  friend bool operator==(const Diagnostic&, const Diagnostic&) = default;
};
using Diagnostics = std::vector<Diagnostic>;

// A diagnostic without a source line; {} is no place at all.
Diagnostic diagnostic(Place place, std::string message);

// Line and column of a byte of a text whose bytes before it are UTF-8.
Place place_of_byte(std::string file, std::string_view text, size_t byte);

// "file:line:column: message", the source line, and the caret below it; the message alone where there is
// no place.
std::string rendered(const Diagnostic& d);

}  // namespace plan
