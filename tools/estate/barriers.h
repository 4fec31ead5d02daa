// Where streets cross railways, water and motorways on the level, the piece across becomes a route of its
// own, so that it can be priced, permitted and programmed, or left out.
//
//   cross_barriers(draft.routes, barriers, rules.crossings_forbidden, draft.remarks);
//
// A route and a barrier meet where they touch on the same level and neither is a bridge or a tunnel. The
// piece reaches half a width to both sides of the meeting point: rail 6 m, tram 3 m, water drawn as a line
// 5 m, motorway 20 m (common practice, no source); through an area of water from entry to exit and 2 m
// beyond on both sides (the same). It ends at the ends of the route; pieces less than a metre apart become
// one, called by the heaviest of what they cross (motorway, rail, tram, water), and less than a metre at
// an end of the route goes with it.
// Where just two routes end on a barrier, one of them holds the crossing; a route that ends alone on a
// barrier does not cross it, nor does one where the barrier ends (a ramp); one that runs along a barrier for
// more than the width of a crossing gets a remark and no crossing.
//
// Pieces take "NAME crossing 1" and "NAME part 1"; each keeps everything else of the route. `crossing` is
// "rail" (trams too), "water" or "motorway", and nothing leaves a crossing midway. Bridges and tunnels stay
// whole: `crossing` "bridge" or "tunnel". Ducts that exist, and what has a `crossing` already, stay as they
// are. No vertex moves, so that junctions stay junctions; a junction within a crossing stays within it.
// With `forbidden` a piece across a barrier is forbidden instead: bridges and tunnels stay allowed.
//
// The pieces do not depend on the order of routes and barriers. O((n + contacts) log n).
// Remarks are placed in the plane, metres.
#pragma once
#include <vector>

#include "estate/draft.h"

namespace withy {

void cross_barriers(std::vector<DraftRoute>& routes, const std::vector<DraftBarrier>& barriers,
                    bool forbidden, std::vector<MapRemark>& remarks);

}  // namespace withy
