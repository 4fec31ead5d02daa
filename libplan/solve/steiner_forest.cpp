#include <algorithm>
#include <functional>
#include <numeric>
#include <queue>
#include <utility>

#include "solve/steiner.h"

namespace plan {
namespace {

// The growing search. A node's distance is that to the forest as it stands; nodes of the forest are at 0.
class Growth {
 public:
  explicit Growth(const SteinerGraph& graph)
      : graph_(graph),
        distance_(graph.nodes(), INT64_MAX),
        parent_(graph.nodes(), steiner_none),
        parent_edge_(graph.nodes(), steiner_none),
        in_forest_(graph.nodes(), 0) {}

  void plant(uint32_t root) { enter(root); }

  void grow(const std::vector<uint8_t>& is_terminal, size_t left) {
    while (left > 0 && !heap_.empty()) {
      const auto [d, node] = heap_.top();
      heap_.pop();
      if (d != distance_[node]) continue;
      if (is_terminal[node] && !in_forest_[node])
        left -= join(node, is_terminal);
      else
        scan(node);
    }
  }
  bool holds(uint32_t node) const { return in_forest_[node] != 0; }
  uint32_t parent(uint32_t node) const { return parent_[node]; }
  uint32_t parent_edge(uint32_t node) const { return parent_edge_[node]; }

 private:
  void enter(uint32_t node) {
    in_forest_[node] = 1;
    distance_[node] = 0;
    heap_.emplace(0, node);
  }
  size_t join(uint32_t terminal, const std::vector<uint8_t>& is_terminal) {
    size_t joined = 0;
    for (uint32_t n = terminal; !in_forest_[n]; n = parent_[n]) {
      enter(n);
      joined += is_terminal[n];
    }
    return joined;
  }
  void scan(uint32_t node) {
    const int64_t d = distance_[node];
    for (const SteinerGraph::Arc& arc : graph_.at(node)) {
      const int64_t reached = d + graph_.cost[arc.edge];
      if (reached >= distance_[arc.to]) continue;
      distance_[arc.to] = reached;
      parent_[arc.to] = node;
      parent_edge_[arc.to] = arc.edge;
      heap_.emplace(reached, arc.to);
    }
  }

  using Entry = std::pair<int64_t, uint32_t>;
  const SteinerGraph& graph_;
  std::vector<int64_t> distance_;
  std::vector<uint32_t> parent_, parent_edge_;
  std::vector<uint8_t> in_forest_;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> heap_;
};

class Sets {
 public:
  explicit Sets(size_t n) : up_(n) { std::iota(up_.begin(), up_.end(), 0u); }
  uint32_t find(uint32_t n) {
    while (up_[n] != n) n = up_[n] = up_[up_[n]];
    return n;
  }
  bool unite(uint32_t a, uint32_t b) {
    a = find(a), b = find(b);
    if (a == b) return false;
    up_[std::max(a, b)] = std::min(a, b);
    return true;
  }

 private:
  std::vector<uint32_t> up_;
};

struct Candidate {
  int64_t cost;
  uint32_t from, to, edge;  // from < to
  friend bool operator<(const Candidate& a, const Candidate& b) {
    if (a.cost != b.cost) return a.cost < b.cost;
    if (a.from != b.from) return a.from < b.from;
    return a.to != b.to ? a.to < b.to : a.edge < b.edge;
  }
};

// Edges of the minimum spanning forest of the grown nodes, the roots taken as one node.
std::vector<uint8_t> spanning_edges(const SteinerGraph& graph, const Growth& grown,
                                    std::span<const uint32_t> roots) {
  std::vector<Candidate> candidates;
  for (uint32_t v = 0; v < graph.nodes(); ++v) {
    if (!grown.holds(v)) continue;
    for (const SteinerGraph::Arc& a : graph.at(v))
      if (v < a.to && grown.holds(a.to)) candidates.push_back({graph.cost[a.edge], v, a.to, a.edge});
  }
  std::sort(candidates.begin(), candidates.end());
  Sets sets(graph.nodes());
  for (uint32_t r : roots) sets.unite(roots[0], r);
  std::vector<uint8_t> chosen(graph.cost.size(), 0);
  for (const Candidate& c : candidates) chosen[c.edge] = sets.unite(c.from, c.to) ? 1 : 0;
  return chosen;
}

// Orients the chosen edges away from the roots; returns the nodes, parents first.
std::vector<uint32_t> orient(const SteinerGraph& graph, const std::vector<uint8_t>& chosen,
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

SteinerForest steiner_forest(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                             std::span<const uint32_t> roots) {
  const size_t n = graph.nodes();
  SteinerForest forest;
  forest.parent.assign(n, steiner_none);
  forest.parent_edge.assign(n, steiner_none);
  forest.root.assign(n, steiner_none);
  std::vector<uint8_t> is_terminal(n, 0);
  size_t count = 0;
  for (uint32_t t : terminals) count += is_terminal[t] ? 0 : 1, is_terminal[t] = 1;

  Growth growth(graph);
  for (uint32_t r : roots) {
    if (growth.holds(r)) continue;
    growth.plant(r);
    count -= is_terminal[r];
  }
  growth.grow(is_terminal, count);
  for (uint32_t v = 0; v < n; ++v)
    if (growth.holds(v) && growth.parent(v) != steiner_none)
      forest.grown_cost += graph.cost[growth.parent_edge(v)];
  for (uint32_t t : terminals)
    if (!growth.holds(t)) forest.unreached.push_back(t);

  const std::vector<uint8_t> chosen = spanning_edges(graph, growth, roots);
  prune(orient(graph, chosen, roots, forest), is_terminal, forest);
  for (uint32_t v = 0; v < n; ++v)
    if (forest.parent[v] != steiner_none) forest.cost += graph.cost[forest.parent_edge[v]];
  return forest;
}

}  // namespace plan
