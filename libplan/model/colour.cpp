#include "model/colour.h"

#include "base/check.h"

namespace plan {

int positions_of(const ColourOrder& code) {
  return static_cast<int>(code.colours.size() * (code.marks.size() + 1));
}

std::optional<std::string> colour_at(const ColourOrder& code, int position) {
  for (const ColourException& e : code.exceptions)
    if (e.position == position) return e.colour;
  if (position < 1 || position > positions_of(code)) return {};
  const auto index = static_cast<size_t>(position - 1);
  const size_t round = index / code.colours.size();
  const std::string& colour = code.colours[index % code.colours.size()];
  return round == 0 ? colour : colour + ", " + code.marks[round - 1];
}

TubePlace tube_place(int n, int per_tube) {
  PLAN_CHECK(n >= 1 && per_tube >= 1);
  return {(n - 1) / per_tube + 1, (n - 1) % per_tube + 1};
}

int fibre_number(TubePlace place, int per_tube) {
  return (place.tube - 1) * per_tube + place.position;
}

}  // namespace plan
