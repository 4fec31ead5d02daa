// Heights of an elevation model laid on the routes, so that spans get gradients.
//
// A route has heights at all of its vertices or at none: a vertex over a void or outside the model leaves
// the whole route without, with a remark; nothing is interpolated across a void. A bridge or a tunnel does
// not follow the ground: it climbs evenly between its two ends.
#pragma once
#include <functional>
#include <limits>
#include <vector>

#include "estate/draft.h"
#include "estate/plane.h"

namespace withy {

inline constexpr double no_height = std::numeric_limits<double>::lowest();
// Metres above the datum at each place, `no_height` where the model does not know.
using HeightsAt = std::function<std::vector<double>(const std::vector<MapPlace>&)>;

struct HeightCounts {
  uint64_t routes = 0, without = 0;
};
HeightCounts lay_heights(Draft& draft, const Plane& plane, const HeightsAt& heights_at);

}  // namespace withy
