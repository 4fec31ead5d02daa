#include "scenario/catalogue.h"

#include <algorithm>
#include <cstdlib>

#include "base/text.h"

namespace plan {

namespace {

constexpr const char* unknown_colour = "see the product's data";

// "20: black, yellow tracer" says what position 20 is.
const std::string* exception_of(const ColourCode& code, const std::string& position) {
  for (const std::string& e : code.exceptions)
    if (e.size() > position.size() && e.compare(0, position.size(), position) == 0 &&
        e[position.size()] == ':')
      return &e;
  return nullptr;
}

}  // namespace

std::string colour_of(const std::vector<ColourCode>& codes, const std::string& code, int position) {
  const auto at =
      std::find_if(codes.begin(), codes.end(), [&](const ColourCode& c) { return c.name == code; });
  if (at == codes.end() || position < 1 || at->colours.empty()) return unknown_colour;
  const std::string number = std::to_string(position);
  if (const std::string* e = exception_of(*at, number))
    return std::string(trimmed(e->substr(number.size() + 1)));
  const int round = static_cast<int>(at->colours.size());
  if (position <= round) return at->colours[static_cast<size_t>(position - 1)];
  if (position > 2 * round || at->repeat.empty()) return unknown_colour;
  return at->colours[static_cast<size_t>(position - 1 - round)] + ", " + at->repeat;
}

}  // namespace plan
