// How many dwellings a text or a building stands for.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "estate/map.h"
#include "estate/premises.h"

namespace withy {

// "6" is six, "1-8" eight, "1;3;5-7" five, "a-d" four; a piece that cannot be read is one. Nothing where
// the text is blank, zero or says more than 10,000.
std::optional<int> dwellings_in(std::string_view text);
// "5", "4.5" (as 5) and "3;4" (as 4); nothing where there is no number from 1 to 200.
std::optional<int> levels_in(std::string_view text);
// Whether `kind` or `use` of a building says that people live in it flat by flat.
bool is_flats(const MapBuilding& building);

struct Dwellings {
  int number = 1;
  const char* rule = "";  // a literal
  Known known = Known::assumed;
};
// By what its address points state, else their number, else what the building states, else levels times
// area for buildings of flats, else one. `addresses` are places in the map; `building` may be none.
Dwellings dwellings_of(const Map& map, std::span<const uint32_t> addresses, const MapBuilding* building,
                       double area, const PremisesRules& rules);

}  // namespace withy
