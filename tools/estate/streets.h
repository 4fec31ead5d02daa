// From a map to the routes of an estate: lines cleaned, given topology where they have none, classed.
//
//   Draft draft = make_streets(map, plane_of(map), {});
//
// Lines of a source with shared vertices (OpenStreetMap) meet where they share one and nowhere else; what
// crosses without one, or is drawn twice, is told (shared_lines.h). Lines of other sources are noded
// (noding.h). Repeated vertices go, and those that lie nowhere; a line without length is left out with a
// remark; self-loops, parallel and very long edges stay what they are: an edge is an id here, not a pair of
// nodes. A bridge or tunnel stands on its level, so that a street with a vertex below it does not meet it,
// unless one of the two ends there: then places alone cannot tell them apart from streets that meet. Squares
// are taken by their outline. Then barriers are crossed (barriers.h) and, if asked for, both sides of the
// streets drawn (both_sides.h). Names are unique: "Mill Lane 3", "way 4031". The order of the map changes
// nothing but names that the map gives twice. O(n log n).
#pragma once
#include "estate/both_sides.h"
#include "estate/draft.h"
#include "estate/noding.h"
#include "estate/plane.h"

namespace withy {

enum class StreetModel : uint8_t { centre_line, both_sides };

struct StreetRules {
  StreetModel model = StreetModel::centre_line;
  bool roads_only = false;           // soft ways are left out
  bool crossings_forbidden = false;  // rail, water and motorways: forbidden instead of priced
  NodingRules noding;
  SideRules sides;
};

Draft make_streets(const Map& map, const Plane& plane, const StreetRules& rules);

// The street graph that the routes make: split wherever a vertex is used twice, and at ends. For reports
// and checks; the planner builds its own.
struct StreetCounts {
  uint64_t nodes = 0, edges = 0, components = 0, loops = 0, parallel = 0;  // parallel: surplus edges
  double metres = 0;
  uint64_t bridges = 0, tunnels = 0;  // edges
};
StreetCounts street_counts(const std::vector<DraftRoute>& routes);

}  // namespace withy
