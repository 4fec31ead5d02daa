// The address points of a map: one spot a position, each given to the building it belongs to.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "base/quantity.h"
#include "base/run.h"
#include "estate/areas.h"
#include "estate/box_index.h"
#include "estate/map.h"
#include "estate/plane.h"

namespace withy {

// The addresses at one position, to 0.1 m.
struct Spot {
  static constexpr uint32_t none = UINT32_MAX;
  plan::Point at;                 // of the first of them
  uint32_t building = none;       // its place in the map
  uint32_t first = 0, count = 0;  // of Addresses::order
};

struct Addresses {
  std::vector<uint32_t> order;  // places in Map::addresses; those of one building together
  std::vector<Spot> spots;      // those of buildings first, in the order of the map; then lone ones
  std::span<const uint32_t> at(const Spot& spot) const {
    return std::span(order).subspan(spot.first, spot.count);
  }
};

// A spot belongs to the nearest building within `reach`, the first of equals. Buildings that are
// `left_out` take none.
Addresses addresses_of(const Map& map, const Plane& plane, const Areas& buildings,
                       const std::vector<bool>& left_out, plan::Length reach, const plan::Run& run = {});

}  // namespace withy
