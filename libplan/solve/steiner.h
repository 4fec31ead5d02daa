// Steiner trees and forests in graphs: the cheapest set of edges that joins every terminal to a root.
// A heuristic, and a certified lower bound on what any method could reach.
//
//   SteinerGraph g = steiner_graph(4, edges);                 // nodes 0 … 3, integer costs
//   SteinerForest f = steiner_forest(g, terminals, roots);    // f.cost, f.parent[node], f.parent_edge[node]
//   SteinerBound b = steiner_bound(g, terminals, roots);      // b.bound <= cheapest <= f.cost
//
// Heuristic: H. Takahashi, A. Matsuyama, "An approximate solution for the Steiner problem in graphs",
// Math. Japonica 24 (1980) 573-577: one growing search in which the tree's nodes have distance 0; the
// nearest terminal is joined by its path. Then the minimum spanning tree of the nodes it uses, pruned.
// Ratio 2(1 - 1/k) for k terminals, the root counted as one. Near-linear in practice.
// Bound: degree-1 terminals have only one edge, which is a constant; on the rest dual ascent, R. T. Wong,
// "A dual ascent approach for Steiner tree problems on a directed graph", Math. Programming 28 (1984)
// 271-287: the smallest component that no root reaches yet pays for its cheapest entering arc, until the
// roots reach all; a large one is left only when it is an eighth above the smallest. It may stop any time;
// stopped early, the ratio of the heuristic is taken if better.
//
// Several roots: each grows its own tree, a terminal joins the nearest; the bound sees them as one root
// whose arcs to them cost nothing. Terminals that no root reaches are left out of both. Ties fall by node
// id, so the order of the edges changes no cost. Costs are 0 or more, their sum below 2^62.
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace plan {

struct SteinerEdge {
  uint32_t from = 0, to = 0;
  int64_t cost = 0;  // negative: the edge is left out
};

// Compressed sparse rows; both directions of every edge, loops left out.
struct SteinerGraph {
  struct Arc {
    uint32_t to = 0;
    uint32_t edge = 0;  // index into the edges it was made from
  };
  std::vector<size_t> first;  // nodes + 1
  std::vector<Arc> arcs;
  std::vector<int64_t> cost;  // by edge

  size_t nodes() const { return first.empty() ? 0 : first.size() - 1; }
  std::span<const Arc> at(uint32_t node) const {
    return std::span<const Arc>(arcs).subspan(first[node], first[node + 1] - first[node]);
  }
};
SteinerGraph steiner_graph(size_t nodes, std::span<const SteinerEdge> edges);

inline constexpr uint32_t steiner_none = UINT32_MAX;

// Every node of the forest but the roots has a parent; walking up ends at the node's root. Every leaf is
// a terminal.
struct SteinerForest {
  std::vector<uint32_t> parent;       // by node; none at roots and outside the forest
  std::vector<uint32_t> parent_edge;  // by node
  std::vector<uint32_t> root;         // by node: index into the roots given; none outside the forest
  std::vector<uint32_t> unreached;    // terminals that no root reaches, in the order given
  int64_t cost = 0;
  int64_t grown_cost = 0;  // before the spanning tree; the ratio holds for it
};
SteinerForest steiner_forest(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                             std::span<const uint32_t> roots);

// The forest of chosen edges (1 by edge), without dead ends: they hang on the roots and close no circle.
// `unreached` are the terminals that they do not join.
SteinerForest oriented_forest(const SteinerGraph& graph, std::span<const uint8_t> chosen,
                              std::span<const uint32_t> terminals, std::span<const uint32_t> roots);

struct SteinerBound {
  int64_t bound = 0;     // no forest is cheaper; includes `forced`
  int64_t forced = 0;    // cost of edges that every forest has: terminals and dead ends of degree 1
  bool complete = true;  // false where the work limit stopped the ascent
};
// `work_limit` counts arcs looked at.
SteinerBound steiner_bound(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                           std::span<const uint32_t> roots, int64_t work_limit = 500'000'000);

}  // namespace plan
