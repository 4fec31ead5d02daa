// Topology for lines that have none: municipal street lines cross without a vertex and end short of the
// street they belong to.
//
// Vertices are keyed at 1 cm; exact duplicates (in either direction, of one level) are dropped; proper
// crossings become a vertex of both lines; a vertex within 3 cm of the inside of another leg becomes one of
// that leg too; an end that no other line shares is moved to the nearest segment of another line within the
// tolerance, to that segment's end if it is within the tolerance too, else to a new vertex on it; where that
// end has been moved itself, to its new place, but no farther than twice the tolerance. A line's
// own segments do not draw its end: they connect nothing, and short spurs would be folded into loops.
// Lines of other levels do not meet. Where a source states no levels an overpass cannot be told from a
// crossing: so the tolerance is reported. Every repair is a remark. O(n log n): limits on what is tried
// (line_meetings.h), which no real map comes near, leave what is beyond them as it is, with a remark. The
// order of the lines changes nothing but the order of the remarks.
#pragma once
#include <cstdint>
#include <vector>

#include "base/point.h"
#include "estate/map.h"

namespace withy {

struct LooseLine {
  MapId id;
  std::vector<plan::Point> line;
  int level = 0;
};
struct NodingRules {
  int64_t tolerance = 1000;  // mm; 1 m is common practice, no source
  int64_t key = 10;          // mm
  // mm. Degrees of six decimals place a vertex to 0.1 m, so that one drawn on a line stands off it by 3 cm in
  // the mean (standard error of rounding, derived).
  int64_t touch = 30;
  uint64_t tries_a_leg = 200, most_meetings = 5'000'000;
};
struct NodingRemark {
  MapRemark remark;
  plan::Point at;
};
struct NodingCounts {
  uint64_t duplicates = 0, crossings = 0, touches = 0, ends_moved = 0;
};
// Lines may come out empty: duplicates, and what shrinks to a point.
NodingCounts node_lines(std::vector<LooseLine>& lines, const NodingRules& rules,
                        std::vector<NodingRemark>& remarks);

}  // namespace withy
