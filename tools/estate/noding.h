// Topology for lines that have none: municipal street lines cross without a vertex and end short of the
// street they belong to.
//
// Vertices are keyed at 1 cm; exact duplicates (in either direction) are dropped; proper crossings become
// a vertex of both lines; an end that no other line shares is moved to the nearest other segment within
// the tolerance, to that segment's end if it is within the tolerance too, else to a new vertex on it. An
// overpass cannot be told from a crossing: lines carry no level here, and a large tolerance folds short
// spurs into loops, so the tolerance is reported. Every repair is a remark. A uniform grid keeps it near
// linear; lines that cross each other more than `most_crossings` times in all are left as they are beyond
// that, with a remark. The order of the lines changes nothing but the order of the remarks.
#pragma once
#include <cstdint>
#include <vector>

#include "base/point.h"
#include "estate/map.h"

namespace withy {

struct LooseLine {
  MapId id;
  std::vector<plan::Point> line;
};
struct NodingRules {
  int64_t tolerance = 1000;  // mm; 1 m is common practice, no source
  int64_t key = 10;          // mm
  uint64_t most_crossings = 5'000'000;
};
struct NodingRemark {
  MapRemark remark;
  plan::Point at;
};
struct NodingCounts {
  uint64_t duplicates = 0, crossings = 0, ends_moved = 0;
};
// Lines may come out empty: duplicates, and what shrinks to a point.
NodingCounts node_lines(std::vector<LooseLine>& lines, const NodingRules& rules,
                        std::vector<NodingRemark>& remarks);

}  // namespace withy
