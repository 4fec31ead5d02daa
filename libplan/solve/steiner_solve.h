// A Steiner tree that is near the best one, and a proof of how near.
//
//   SteinerProblem p{edges, terminal};
//   SteinerAnswer a = steiner_solve(p, SteinerEffort::normal);
//   a.bound <= cheapest tree <= a.tree.cost
//
// The problem is reduced (solve/steiner_reduction.h); dual ascents from several terminals bound it and show
// where good trees lie (solve/steiner_ascent.h); the shortest-path heuristic builds trees there
// (solve/steiner_growth.h); regions of the best one are solved anew the same way (solve/steiner_regions.h).
// With a better tree in hand, arcs whose reduced costs exceed what is left are taken out and a last ascent
// bounds the rest: that bound holds for every tree better than the one in hand (Polzin & Vahdati Daneshmand
// 2001).
//
// All terminals must be connected. Effort is counted in balls tried, not in seconds; `stop` is there for
// those who measure: it is asked between balls, and `balls` of the answer repeats such a run. Costs are
// whole, 0 or more, their sum below 2^60; ties fall by node, so that the order of edges changes no cost.
#pragma once
#include <cstdint>
#include <functional>
#include <span>

#include "solve/steiner_problem.h"

namespace plan {

enum class SteinerEffort : uint8_t { quick, normal, thorough };

struct SteinerRun {
  SteinerEffort effort = SteinerEffort::normal;
  int64_t balls = -1;               // exactly so many at most; -1 = by effort
  std::function<bool()> stop = {};  // asked between balls; empty = never
};

struct SteinerAnswer {
  SteinerTree tree;
  int64_t bound = 0;  // no tree is cheaper
  int64_t balls = 0;  // tried
};
SteinerAnswer steiner_solve(const SteinerProblem& problem, const SteinerRun& run);

// A tree from every root: the roots are one terminal. Terminals that no root reaches are left out.
struct SteinerForestAnswer {
  SteinerForest forest;
  int64_t bound = 0;
};
SteinerForestAnswer steiner_solve_forest(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                                         std::span<const uint32_t> roots, const SteinerRun& run);

}  // namespace plan
