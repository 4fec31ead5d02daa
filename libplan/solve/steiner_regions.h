// Local search on a Steiner tree: cut out a region, keep the tree outside, solve the small problem anew.
//
// A ball of nodes round a node of the tree. Every piece of the tree that is left outside it becomes one
// terminal; the terminals inside stay. Whatever tree joins all of these is a tree of the whole again, so a
// cheaper one is taken. Balls follow each other along the tree, of several sizes; one is not tried again
// while nothing near it has changed. (Prototype of the idea: large-neighbourhood search; P. Shaw, CP 1998.)
#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "solve/steiner_problem.h"

namespace plan {

using SteinerSolver = std::function<SteinerTree(const SteinerProblem&)>;

struct RegionSearch {
  SteinerSolver solver;                         // of the small problems
  std::vector<uint32_t> sizes{150, 400, 1000};  // nodes of a ball, one size after the other
  std::function<bool()> stop = {};              // asked between balls; empty = never
};

// Improves the tree until nothing near by can be, or `balls` have been tried; counts them down.
void improve_by_regions(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                        const RegionSearch& search, SteinerTree& tree, int64_t& balls);

}  // namespace plan
