// Many starts on a small Steiner problem: trees grown under costs that are each time a little other, improved
// node by node, and the best of them put together again.
#pragma once
#include <cstdint>
#include <functional>

#include "solve/steiner_regions.h"

namespace plan {

// `starts` trees; the five best, all edges of theirs together, are solved once more by `solver` after every
// eight. Seeded by their number alone: the same trees every time. `stop` is asked between starts.
struct StartSearch {
  SteinerSolver solver;
  int starts = 16;
  std::function<bool()> stop = {};
};
void improve_by_starts(const SteinerGraph& graph, const SteinerProblem& problem, const StartSearch& search,
                       SteinerTree& tree);

}  // namespace plan
