#include "solve/steiner.h"
#include "solve/steiner_growth.h"

namespace plan {
namespace {

// Orients the chosen edges away from the roots; returns the nodes, parents first.
std::vector<uint32_t> orient(const SteinerGraph& graph, std::span<const uint8_t> chosen,
                             std::span<const uint32_t> roots, SteinerForest& forest) {
  std::vector<uint32_t> order;
  for (uint32_t i = 0; i < roots.size(); ++i) {
    if (forest.root[roots[i]] != steiner_none) continue;
    forest.root[roots[i]] = i;
    order.push_back(roots[i]);
  }
  for (size_t at = 0; at < order.size(); ++at) {
    const uint32_t v = order[at];
    for (const SteinerGraph::Arc& a : graph.at(v)) {
      if (!chosen[a.edge] || forest.root[a.to] != steiner_none) continue;
      forest.root[a.to] = forest.root[v];
      forest.parent[a.to] = v;
      forest.parent_edge[a.to] = a.edge;
      order.push_back(a.to);
    }
  }
  return order;
}

void prune(const std::vector<uint32_t>& order, const std::vector<uint8_t>& is_terminal,
           SteinerForest& forest) {
  std::vector<uint32_t> children(forest.parent.size(), 0);
  for (uint32_t v : order)
    if (forest.parent[v] != steiner_none) ++children[forest.parent[v]];
  for (size_t i = order.size(); i-- > 0;) {
    const uint32_t v = order[i];
    if (forest.parent[v] == steiner_none || children[v] > 0 || is_terminal[v]) continue;
    --children[forest.parent[v]];
    forest.parent[v] = forest.parent_edge[v] = forest.root[v] = steiner_none;
  }
}

}  // namespace

SteinerForest oriented_forest(const SteinerGraph& graph, std::span<const uint8_t> chosen,
                              std::span<const uint32_t> terminals, std::span<const uint32_t> roots) {
  const size_t n = graph.nodes();
  SteinerForest forest;
  forest.parent.assign(n, steiner_none);
  forest.parent_edge.assign(n, steiner_none);
  forest.root.assign(n, steiner_none);
  std::vector<uint8_t> is_terminal(n, 0);
  for (uint32_t t : terminals) is_terminal[t] = 1;
  prune(orient(graph, chosen, roots, forest), is_terminal, forest);
  for (uint32_t v = 0; v < n; ++v)
    if (forest.parent[v] != steiner_none) forest.cost += graph.cost[forest.parent_edge[v]];
  for (uint32_t t : terminals)
    if (forest.root[t] == steiner_none) forest.unreached.push_back(t);
  return forest;
}

SteinerForest steiner_forest(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                             std::span<const uint32_t> roots) {
  const size_t n = graph.nodes();
  std::vector<uint8_t> is_terminal(n, 0);
  size_t count = 0;
  for (uint32_t t : terminals) count += is_terminal[t] ? 0 : 1, is_terminal[t] = 1;
  SteinerGrowth growth(graph);
  for (uint32_t r : roots) {
    if (growth.holds(r)) continue;
    growth.plant(r);
    count -= is_terminal[r];
  }
  growth.grow(is_terminal, count);
  SteinerForest forest =
      oriented_forest(graph, spanning_edges(graph, growth.held(), roots), terminals, roots);
  for (uint32_t v = 0; v < n; ++v)
    if (growth.holds(v) && growth.parent(v) != steiner_none)
      forest.grown_cost += graph.cost[growth.parent_edge(v)];
  return forest;
}

}  // namespace plan
