#include "solve/steiner_starts.h"

#include <algorithm>
#include <vector>

#include "solve/steiner_growth.h"
#include "solve/steiner_vertices.h"

namespace plan {
namespace {

constexpr size_t pool_size = 16, best_size = 5;
constexpr int between = 8;  // starts between two recombinations

// SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014).
uint64_t mixed(uint64_t x) {
  x += 0x9E3779B97F4A7C15ULL;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
  return x ^ (x >> 31);
}

class Starts {
 public:
  Starts(const SteinerGraph& graph, const SteinerProblem& p, const StartSearch& search)
      : graph_(graph), p_(p), search_(search) {
    for (uint32_t v = 0; v < p.nodes(); ++v)
      if (p.terminal[v]) terminals_.push_back(v);
    int64_t sum = 0;
    for (int64_t cost : graph.cost) sum += std::max<int64_t>(cost, 0);
    fine_ = sum < int64_t{1} << 46;
  }

  void run(SteinerTree& tree) {
    keep(tree);
    for (int i = 0; i < search_.starts && !(search_.stop && search_.stop()); ++i) {
      const auto number = static_cast<uint64_t>(i);
      SteinerTree fresh = grown(number);
      for (uint64_t k = 0; k < 3; ++k) {
        SteinerTree both = combined(fresh, pool_[mixed(number * 31 + k) % pool_.size()], number * 7 + k);
        if (both.cost < fresh.cost) fresh = std::move(both);
      }
      keep(std::move(fresh));
      if (i % between == between - 1) keep(recombined());
    }
    if (pool_.front().cost < tree.cost) tree = pool_.front();
  }

 private:
  uint64_t chance(uint32_t v, uint32_t w, uint64_t number) const {
    return mixed(number * 0x10001 + mixed((uint64_t{v} << 32) | w));
  }
  // Grown from some terminal where edge e costs `cost(v, w, e)`.
  template <class Cost>
  SteinerTree grown_under(uint64_t number, Cost&& cost) {
    SteinerGraph other = graph_;
    for (uint32_t v = 0; v < graph_.nodes(); ++v)
      for (const SteinerGraph::Arc& a : graph_.at(v))
        if (v < a.to) other.cost[a.edge] = cost(v, a.to, a.edge);
    SteinerGrowth growth(other);
    const uint32_t root = terminals_[mixed(number) % terminals_.size()];
    growth.plant(root);
    growth.grow(p_.terminal, terminals_.size() - 1);
    return improved(spanning_edges(graph_, growth.held(), std::span(&root, 1)));
  }
  // Costs between three quarters and five quarters of what they are.
  SteinerTree grown(uint64_t number) {
    return grown_under(number, [&](uint32_t v, uint32_t w, uint32_t e) {
      return times(graph_.cost[e], static_cast<int64_t>(768 + chance(v, w, number) % 512));
    });
  }
  // What both hold costs what it does, what one holds some times as much, everything else far more.
  SteinerTree combined(const SteinerTree& x, const SteinerTree& y, uint64_t number) {
    std::vector<uint8_t> times_in(p_.edges.size(), 0);
    for (const SteinerTree* t : {&x, &y})
      for (uint32_t e : t->edges) ++times_in[e];
    return grown_under(number, [&](uint32_t v, uint32_t w, uint32_t e) {
      const auto luck = static_cast<int64_t>(chance(v, w, number) % 4096);
      const int64_t factor = times_in[e] == 2 ? 1024 : times_in[e] == 1 ? 1024 + luck : 8192 + luck;
      return times(graph_.cost[e], factor);
    });
  }
  // In parts of 1024 where there is room for that: small costs would all round to the same.
  int64_t times(int64_t cost, int64_t factor) const { return fine_ ? cost * factor : cost / 1024 * factor; }
  SteinerTree improved(const std::vector<uint8_t>& chosen) {
    SteinerTree tree = pruned(graph_, p_.terminal, chosen);
    improve_by_vertices(graph_, p_.terminal, tree);
    return tree;
  }
  // Nothing but the edges of the pool's best trees.
  SteinerTree recombined() {
    std::vector<uint8_t> in(p_.edges.size(), 0);
    for (size_t i = 0; i < std::min(best_size, pool_.size()); ++i)
      for (uint32_t e : pool_[i].edges) in[e] = 1;
    SteinerProblem part{p_.edges, p_.terminal};
    for (size_t e = 0; e < in.size(); ++e)
      if (!in[e]) part.edges[e].cost = -1;
    std::vector<uint8_t> chosen(p_.edges.size(), 0);
    for (uint32_t e : search_.solver(part).edges) chosen[e] = 1;
    return improved(chosen);
  }
  void keep(SteinerTree tree) {
    const auto at =
        std::find_if(pool_.begin(), pool_.end(), [&](const SteinerTree& t) { return tree.cost <= t.cost; });
    if (at != pool_.end() && at->cost == tree.cost) return;
    pool_.insert(at, std::move(tree));
    if (pool_.size() > pool_size) pool_.pop_back();
  }

  const SteinerGraph& graph_;
  const SteinerProblem& p_;
  const StartSearch& search_;
  std::vector<uint32_t> terminals_;
  std::vector<SteinerTree> pool_;  // cheapest first
  bool fine_ = true;
};

}  // namespace

void improve_by_starts(const SteinerGraph& graph, const SteinerProblem& problem, const StartSearch& search,
                       SteinerTree& tree) {
  Starts(graph, problem, search).run(tree);
}

}  // namespace plan
