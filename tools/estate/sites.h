// Which buildings and address points are premises.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "estate/addresses.h"
#include "estate/areas.h"
#include "estate/map.h"
#include "estate/plane.h"
#include "estate/premises.h"

namespace withy {

// The buildings of a map, in its order.
struct Footprints {
  Areas areas;
  std::vector<plan::Point> centres;
  std::vector<double> sizes;   // m2
  std::vector<bool> left_out;  // without an outline, or drawn twice
};
Footprints footprints_of(const Map& map, const Plane& plane, MadePremises& out);

// A premises to be: a building with its address points, or a spot of its own.
struct Site {
  MapId id;
  MapPlace place;  // for remarks
  plan::Point centre;
  uint32_t building = Spot::none;
  uint32_t first = 0, count = 0;  // of Addresses::order
};
// Buildings and lone spots in Hilbert order of their centres. Counts and remarks go to `out`.
std::vector<Site> sites_of(const Map& map, const Footprints& footprints, const Addresses& addresses,
                           const PremisesRules& rules, const plan::Run& run, MadePremises& out);

}  // namespace withy
