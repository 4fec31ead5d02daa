#include "base/place.h"

#include <fmt/core.h>

namespace plan {

Diagnostic diagnostic(Place place, std::string message) {
  Diagnostic d;
  d.place = std::move(place);
  d.message = std::move(message);
  return d;
}

std::string rendered(const Diagnostic& d) {
  std::string text = d.place.line == 0 ? fmt::format("{}: {}\n", d.place.file, d.message)
                                       : fmt::format("{}:{}:{}: {}\n", d.place.file, d.place.line, d.place.column, d.message);
  if (d.source_line.empty()) return text;
  text += "    " + d.source_line + "\n    ";
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
