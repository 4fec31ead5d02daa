#include "solve/steiner_growth.h"

#include <algorithm>
#include <functional>
#include <numeric>

namespace plan {

SteinerGrowth::SteinerGrowth(const SteinerGraph& graph, std::span<const uint8_t> open)
    : graph_(graph),
      open_(open),
      distance_(graph.nodes(), INT64_MAX),
      parent_(graph.nodes(), steiner_none),
      parent_edge_(graph.nodes(), steiner_none),
      in_forest_(graph.nodes(), 0) {}

void SteinerGrowth::grow(std::span<const uint8_t> terminal, size_t left) {
  while (left > 0 && !heap_.empty()) {
    const auto [d, node] = heap_.front();
    std::pop_heap(heap_.begin(), heap_.end(), std::greater<>());
    heap_.pop_back();
    if (d != distance_[node]) continue;
    if (terminal[node] && !in_forest_[node])
      left -= join(node, terminal);
    else
      scan(node);
  }
}

void SteinerGrowth::enter(uint32_t node) {
  in_forest_[node] = 1;
  distance_[node] = 0;
  heap_.emplace_back(0, node);
  std::push_heap(heap_.begin(), heap_.end(), std::greater<>());
}

size_t SteinerGrowth::join(uint32_t terminal, std::span<const uint8_t> is_terminal) {
  size_t joined = 0;
  for (uint32_t n = terminal; !in_forest_[n]; n = parent_[n]) {
    enter(n);
    joined += is_terminal[n];
  }
  return joined;
}

void SteinerGrowth::scan(uint32_t node) {
  const int64_t d = distance_[node];
  for (const SteinerGraph::Arc& arc : graph_.at(node)) {
    if (!open_.empty() && !open_[arc.edge]) continue;
    const int64_t reached = d + graph_.cost[arc.edge];
    if (reached >= distance_[arc.to]) continue;
    distance_[arc.to] = reached;
    parent_[arc.to] = node;
    parent_edge_[arc.to] = arc.edge;
    heap_.emplace_back(reached, arc.to);
    std::push_heap(heap_.begin(), heap_.end(), std::greater<>());
  }
}

NodeSets::NodeSets(size_t n) : up_(n) {
  std::iota(up_.begin(), up_.end(), 0u);
}
uint32_t NodeSets::find(uint32_t n) {
  while (up_[n] != n) n = up_[n] = up_[up_[n]];
  return n;
}
bool NodeSets::unite(uint32_t a, uint32_t b) {
  a = find(a), b = find(b);
  if (a == b) return false;
  up_[std::max(a, b)] = std::min(a, b);
  return true;
}

namespace {

struct Candidate {
  int64_t cost;
  uint32_t from, to, edge;  // from < to
  friend bool operator<(const Candidate& a, const Candidate& b) {
    if (a.cost != b.cost) return a.cost < b.cost;
    if (a.from != b.from) return a.from < b.from;
    return a.to != b.to ? a.to < b.to : a.edge < b.edge;
  }
};

}  // namespace

std::vector<uint8_t> spanning_edges(const SteinerGraph& graph, std::span<const uint8_t> held,
                                    std::span<const uint32_t> roots) {
  std::vector<Candidate> candidates;
  for (uint32_t v = 0; v < graph.nodes(); ++v) {
    if (!held[v]) continue;
    for (const SteinerGraph::Arc& a : graph.at(v))
      if (v < a.to && held[a.to]) candidates.push_back({graph.cost[a.edge], v, a.to, a.edge});
  }
  std::sort(candidates.begin(), candidates.end());
  NodeSets sets(graph.nodes());
  for (uint32_t r : roots) sets.unite(roots[0], r);
  std::vector<uint8_t> chosen(graph.cost.size(), 0);
  for (const Candidate& c : candidates) chosen[c.edge] = sets.unite(c.from, c.to) ? 1 : 0;
  return chosen;
}

SteinerTree pruned(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                   std::span<const uint8_t> chosen) {
  std::vector<uint32_t> degree(graph.nodes(), 0), ready;
  std::vector<uint8_t> kept(chosen.begin(), chosen.end());
  for (uint32_t v = 0; v < graph.nodes(); ++v)
    for (const SteinerGraph::Arc& a : graph.at(v)) degree[v] += kept[a.edge];
  for (uint32_t v = 0; v < graph.nodes(); ++v)
    if (degree[v] == 1 && !terminal[v]) ready.push_back(v);
  while (!ready.empty()) {
    const uint32_t v = ready.back();
    ready.pop_back();
    for (const SteinerGraph::Arc& a : graph.at(v)) {
      if (!kept[a.edge]) continue;
      kept[a.edge] = 0;
      if (--degree[a.to] == 1 && !terminal[a.to]) ready.push_back(a.to);
    }
  }
  SteinerTree tree;
  for (uint32_t e = 0; e < kept.size(); ++e)
    if (kept[e]) tree.edges.push_back(e), tree.cost += graph.cost[e];
  return tree;
}

}  // namespace plan
