// Dual ascent on a Steiner problem: a lower bound, and reduced costs that show where good trees lie.
//
// R. T. Wong, "A dual ascent approach for Steiner tree problems on a directed graph", Math. Programming 28
// (1984) 271-287. Every terminal's component, the nodes that reach it over arcs without slack, pays for its
// cheapest entering arc until the root reaches all. The smallest component goes first; a large one is left
// only when it is an eighth above the next. Stopped early by its work limit, what has been paid is still a
// bound.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "solve/steiner.h"

namespace plan {

struct SteinerAscent {
  int64_t bound = 0;     // sum of what was paid
  bool complete = true;  // the root reaches all terminals over arcs without slack
  std::vector<int64_t>
      slack;  // by place in graph.arcs: of the arc from arcs[i].to into the node that lists it
};
// `roots` are one root together. `work_limit` counts arcs looked at.
SteinerAscent steiner_ascent(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                             std::span<const uint32_t> roots, int64_t work_limit = 500'000'000);

}  // namespace plan
