// Local search on the nodes of a Steiner tree: one more, or one less, and the cheapest tree of what is then
// held (insertion and elimination of Steiner vertices; S. Voss, "Steiner's problem in graphs: heuristic
// methods", Discrete Applied Mathematics 40 (1992) 45-72).
#pragma once
#include <cstdint>
#include <span>

#include "solve/steiner_problem.h"

namespace plan {

// Until no single node improves the tree. A try costs what the graph has edges: for small graphs.
void improve_by_vertices(const SteinerGraph& graph, std::span<const uint8_t> terminal, SteinerTree& tree);

}  // namespace plan
