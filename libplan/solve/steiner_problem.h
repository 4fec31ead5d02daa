// The Steiner tree problem of a connected graph, as the engine's parts hand it to each other.
#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "solve/steiner.h"

namespace plan {

// One tree is to span all terminals; edges that cost less than 0 are no edges.
struct SteinerProblem {
  std::vector<SteinerEdge> edges;
  std::vector<uint8_t> terminal;  // by node
  size_t nodes() const { return terminal.size(); }
};

struct SteinerTree {
  std::vector<uint32_t> edges;  // of the problem, sorted
  int64_t cost = 0;
};

}  // namespace plan
