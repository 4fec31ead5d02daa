#include "solve/steiner_vertices.h"

#include <algorithm>
#include <vector>

#include "solve/steiner_growth.h"

namespace plan {
namespace {

class VertexSearch {
 public:
  VertexSearch(const SteinerGraph& graph, std::span<const uint8_t> terminal)
      : graph_(graph), terminal_(terminal), held_(graph.nodes(), 0), degree_(graph.nodes(), 0) {
    for (uint32_t v = 0; v < graph.nodes(); ++v)
      for (const SteinerGraph::Arc& a : graph.at(v))
        if (v < a.to) sorted_.push_back({graph.cost[a.edge], v, a.to, a.edge});
    std::sort(sorted_.begin(), sorted_.end());
  }

  void improve(SteinerTree& tree) {
    hold(tree);
    for (bool any = true; any;) {
      any = false;
      for (uint32_t v = 0; v < graph_.nodes(); ++v) {
        if (terminal_[v] || !is_worth(v)) continue;
        held_[v] ^= 1;
        const SteinerTree other = spanned(tree.cost);
        held_[v] ^= 1;
        if (other.cost >= tree.cost) continue;
        tree = other;
        hold(tree);
        any = true;
      }
    }
  }

 private:
  struct Sorted {
    int64_t cost;
    uint32_t from, to, edge;
    friend bool operator<(const Sorted& a, const Sorted& b) {
      if (a.cost != b.cost) return a.cost < b.cost;
      return a.from != b.from ? a.from < b.from : a.to < b.to;
    }
  };

  // A node outside needs two ways in; in the tree one that only passes cannot be done without.
  bool is_worth(uint32_t v) const {
    size_t ways = 0;
    for (const SteinerGraph::Arc& a : graph_.at(v)) ways += held_[a.to];
    return ways >= 2;
  }
  void hold(const SteinerTree& tree) {
    std::fill(held_.begin(), held_.end(), 0);
    for (uint32_t v = 0; v < graph_.nodes(); ++v) held_[v] = terminal_[v];
    std::vector<uint8_t> chosen(graph_.cost.size(), 0);
    for (uint32_t e : tree.edges) chosen[e] = 1;
    for (const Sorted& s : sorted_)
      if (chosen[s.edge]) held_[s.from] = held_[s.to] = 1;
  }
  // The cheapest tree of the held nodes without dead ends; of infinite cost where they do not hang together.
  SteinerTree spanned(int64_t below) {
    NodeSets sets(graph_.nodes());
    size_t joins = static_cast<size_t>(std::count(held_.begin(), held_.end(), 1)) - 1;
    chosen_.clear();
    std::fill(degree_.begin(), degree_.end(), 0);
    int64_t cost = 0;
    for (const Sorted& s : sorted_) {
      if (joins == 0) break;
      if (!held_[s.from] || !held_[s.to] || !sets.unite(s.from, s.to)) continue;
      chosen_.push_back(s);
      ++degree_[s.from], ++degree_[s.to];
      cost += s.cost;
      --joins;
    }
    if (joins > 0) return {{}, INT64_MAX};
    prune(cost);
    if (cost >= below) return {{}, cost};
    SteinerTree tree{{}, cost};
    for (const Sorted& s : chosen_) tree.edges.push_back(s.edge);
    std::sort(tree.edges.begin(), tree.edges.end());
    return tree;
  }
  void prune(int64_t& cost) {
    const auto is_end = [&](uint32_t v) { return degree_[v] == 1 && !terminal_[v]; };
    for (bool any = true; any;) {
      any = false;
      std::erase_if(chosen_, [&](const Sorted& s) {
        if (!is_end(s.from) && !is_end(s.to)) return false;
        --degree_[s.from], --degree_[s.to];
        cost -= s.cost;
        return any = true;
      });
    }
  }

  const SteinerGraph& graph_;
  std::span<const uint8_t> terminal_;
  std::vector<Sorted> sorted_, chosen_;
  std::vector<uint8_t> held_;
  std::vector<uint32_t> degree_;
};

}  // namespace

void improve_by_vertices(const SteinerGraph& graph, std::span<const uint8_t> terminal, SteinerTree& tree) {
  VertexSearch(graph, terminal).improve(tree);
}

}  // namespace plan
