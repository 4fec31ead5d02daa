#include "base/place.h"

#include <fmt/core.h>

namespace plan {

namespace {

// What a terminal might obey.
bool is_control(char c) {
  return (static_cast<unsigned char>(c) < 0x20 && c != '\t') || c == 0x7F;
}

}  // namespace

Diagnostic diagnostic(Place place, std::string message) {
  Diagnostic d;
  d.place = std::move(place);
  d.message = std::move(message);
  return d;
}

Place place_of_byte(std::string file, std::string_view text, size_t byte) {
  Place at{std::move(file), 1, 1};
  for (const char c : text.substr(0, byte)) {
    if (c == '\n') {
      ++at.line, at.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) {
      ++at.column;
    }
  }
  return at;
}

std::string rendered(const Diagnostic& d) {
  std::string text = d.place.file;
  if (d.place.line > 0) text += fmt::format(":{}:{}", d.place.line, d.place.column);
  text += text.empty() ? d.message + "\n" : fmt::format(": {}\n", d.message);
  if (d.source_line.empty()) return text;
  text += "    ";
  for (const char c : d.source_line) text += is_control(c) ? '?' : c;
  text += "\n    ";
  uint32_t column = 1;
  for (size_t i = 0; i < d.source_line.size() && column < d.place.column; ++i) {
    if ((static_cast<unsigned char>(d.source_line[i]) & 0xC0) == 0x80) continue;  // inside a character
    text += d.source_line[i] == '\t' ? '\t' : ' ';
    ++column;
  }
  text += '^';
  if (d.width > 1) text.append(d.width - 1, '~');
  return text + "\n";
}

}  // namespace plan
