// The growing search of the shortest-path heuristic (Takahashi & Matsuyama 1980, solve/steiner.h), and the
// cheapest tree of the nodes that it has used.
#pragma once
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "solve/steiner_problem.h"

namespace plan {

// A node's distance is that to the forest as it stands; nodes of the forest are at 0. Edges with
// `open[edge] == 0` are no edges; empty = all open.
class SteinerGrowth {
 public:
  explicit SteinerGrowth(const SteinerGraph& graph, std::span<const uint8_t> open = {});
  void plant(uint32_t root) { enter(root); }
  // Joins the nearest terminal until `left` have been joined or none can be reached.
  void grow(std::span<const uint8_t> terminal, size_t left);
  bool holds(uint32_t node) const { return in_forest_[node] != 0; }
  uint32_t parent(uint32_t node) const { return parent_[node]; }
  uint32_t parent_edge(uint32_t node) const { return parent_edge_[node]; }
  std::span<const uint8_t> held() const { return in_forest_; }

 private:
  void enter(uint32_t node);
  size_t join(uint32_t terminal, std::span<const uint8_t> is_terminal);
  void scan(uint32_t node);

  const SteinerGraph& graph_;
  std::span<const uint8_t> open_;
  std::vector<int64_t> distance_;
  std::vector<uint32_t> parent_, parent_edge_;
  std::vector<uint8_t> in_forest_;
  std::vector<std::pair<int64_t, uint32_t>> heap_;
};

// Nodes united so far, the smallest of each set its name.
class NodeSets {
 public:
  explicit NodeSets(size_t n);
  uint32_t find(uint32_t n);
  bool unite(uint32_t a, uint32_t b);

 private:
  std::vector<uint32_t> up_;
};

// 1 for the edges of the minimum spanning forest of the nodes that are held; `roots` are one node. Ties by
// cost, then nodes.
std::vector<uint8_t> spanning_edges(const SteinerGraph& graph, std::span<const uint8_t> held,
                                    std::span<const uint32_t> roots);

// The tree of these edges without its dead ends that are no terminals. They hang together.
SteinerTree pruned(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                   std::span<const uint8_t> chosen);

}  // namespace plan
