#include "solve/steiner_solve.h"

#include <algorithm>
#include <queue>
#include <utility>

#include "base/check.h"
#include "solve/steiner_ascent.h"
#include "solve/steiner_growth.h"
#include "solve/steiner_reduction.h"
#include "solve/steiner_regions.h"
#include "solve/steiner_starts.h"
#include "solve/steiner_vertices.h"

namespace plan {
namespace {

constexpr int64_t far = INT64_MAX;

std::vector<uint32_t> terminals_of(const SteinerProblem& p) {
  std::vector<uint32_t> all;
  for (uint32_t v = 0; v < p.nodes(); ++v)
    if (p.terminal[v]) all.push_back(v);
  return all;
}

// A few terminals, spread over their numbers.
std::vector<uint32_t> spread(const std::vector<uint32_t>& all, size_t count) {
  std::vector<uint32_t> some;
  count = std::min(count, all.size());
  for (size_t i = 0; i < count; ++i) some.push_back(all[i * all.size() / count]);
  return some;
}

SteinerTree built(const SteinerGraph& graph, const SteinerProblem& p, size_t terminals, uint32_t start,
                  std::span<const uint8_t> open) {
  SteinerGrowth growth(graph, open);
  growth.plant(start);
  growth.grow(p.terminal, terminals - 1);
  const uint32_t root[] = {start};
  return pruned(graph, p.terminal, spanning_edges(graph, growth.held(), root));
}

// Edges that cost nothing more in one direction or the other.
std::vector<uint8_t> free_edges(const SteinerGraph& graph, const SteinerAscent& ascent) {
  std::vector<uint8_t> open(graph.cost.size(), 0);
  for (size_t a = 0; a < graph.arcs.size(); ++a)
    if (ascent.slack[a] == 0) open[graph.arcs[a].edge] = 1;
  return open;
}

struct Best {
  SteinerTree tree{{}, far};
  void offer(SteinerTree other) {
    if (other.cost < tree.cost) tree = std::move(other);
  }
};

// Least reduced cost from the root, and from each node down to a terminal: what a tree through a node or an
// arc costs at least above the bound.
class ReducedWays {
 public:
  ReducedWays(const SteinerGraph& graph, const SteinerProblem& p, const SteinerAscent& ascent, uint32_t root)
      : graph_(graph), ascent_(ascent), down_(p.nodes(), far), from_root_(p.nodes(), far) {
    list_out();
    search_from_root(root);
    search_to_terminals(p);
  }
  // No tree of less than bound + `gap` holds the edge.
  bool excludes(uint32_t edge, int64_t gap) const {
    for (const auto& [a, tail] : arcs_of_[edge]) {
      const uint32_t head = heads_[a];
      if (from_root_[tail] == far || down_[head] == far) continue;
      if (from_root_[tail] + ascent_.slack[a] + down_[head] < gap) return false;
    }
    return true;
  }

 private:
  using Entry = std::pair<int64_t, uint32_t>;
  using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;
  // In the graph's rows stand the arcs into a node; out of a node leads the other arc of each edge.
  void list_out() {
    heads_.resize(graph_.arcs.size());
    arcs_of_.resize(graph_.cost.size());
    for (uint32_t v = 0; v < graph_.nodes(); ++v)
      for (size_t a = graph_.first[v]; a < graph_.first[v + 1]; ++a) {
        heads_[a] = v;
        arcs_of_[graph_.arcs[a].edge].push_back({a, graph_.arcs[a].to});
      }
  }
  void search_from_root(uint32_t root) {
    Queue queue;
    from_root_[root] = 0;
    queue.emplace(0, root);
    while (!queue.empty()) {
      const auto [d, v] = queue.top();
      queue.pop();
      if (d != from_root_[v]) continue;
      for (const SteinerGraph::Arc& out : graph_.at(v))
        for (const auto& [a, tail] : arcs_of_[out.edge])
          if (tail == v && d + ascent_.slack[a] < from_root_[out.to]) {
            from_root_[out.to] = d + ascent_.slack[a];
            queue.emplace(from_root_[out.to], out.to);
          }
    }
  }
  void search_to_terminals(const SteinerProblem& p) {
    Queue queue;
    for (uint32_t v = 0; v < p.nodes(); ++v)
      if (p.terminal[v]) down_[v] = 0, queue.emplace(0, v);
    while (!queue.empty()) {
      const auto [d, v] = queue.top();
      queue.pop();
      if (d != down_[v]) continue;
      for (size_t a = graph_.first[v]; a < graph_.first[v + 1]; ++a) {
        const uint32_t tail = graph_.arcs[a].to;
        if (d + ascent_.slack[a] >= down_[tail]) continue;
        down_[tail] = d + ascent_.slack[a];
        queue.emplace(down_[tail], tail);
      }
    }
  }

  const SteinerGraph& graph_;
  const SteinerAscent& ascent_;
  std::vector<int64_t> down_, from_root_;
  std::vector<uint32_t> heads_;                                    // by arc
  std::vector<std::vector<std::pair<size_t, uint32_t>>> arcs_of_;  // by edge: arc and its tail
};

struct Efforts {
  size_t roots, starts;
  int64_t balls_a_thousand;  // for every thousand nodes of the reduced problem
};
Efforts efforts(SteinerEffort e) {
  switch (e) {
    case SteinerEffort::quick:
      return {2, 2, 0};
    case SteinerEffort::normal:
      return {3, 4, 50};
    default:
      return {5, 8, 1000};
  }
}

struct Bounded {
  SteinerAscent ascent;
  uint32_t root = 0;
};

Bounded best_ascent(const SteinerGraph& graph, const SteinerProblem& p, std::span<const uint32_t> roots) {
  Bounded best;
  best.ascent.bound = -1;
  for (const uint32_t root : roots) {
    SteinerAscent ascent = steiner_ascent(graph, p.terminal, std::span(&root, 1));
    if (ascent.bound > best.ascent.bound) best = {std::move(ascent), root};
  }
  return best;
}

void build(const SteinerGraph& graph, const SteinerProblem& p, const std::vector<uint32_t>& terminals,
           const Bounded& bounded, size_t starts, Best& best) {
  const std::vector<uint8_t> open = free_edges(graph, bounded.ascent);
  if (bounded.ascent.complete) best.offer(built(graph, p, terminals.size(), bounded.root, open));
  for (const uint32_t start : spread(terminals, starts)) {
    if (bounded.ascent.complete) best.offer(built(graph, p, terminals.size(), start, open));
    best.offer(built(graph, p, terminals.size(), start, {}));
  }
}

constexpr size_t small_enough = 8'000'000;  // nodes times edges, for searches that try every node

// Of a region: reduced, bounded once, built. A later turn begins at other terminals and looks closer.
SteinerTree small_tree(const SteinerProblem& problem, size_t turn) {
  SteinerReduction reduction(problem);
  reduction.reduce({1, 100});
  const SteinerProblem& p = reduction.problem();
  const std::vector<uint32_t> terminals = terminals_of(p);
  if (terminals.size() <= 1) return reduction.expanded({});
  const SteinerGraph graph = steiner_graph(p.nodes(), p.edges);
  std::vector<uint32_t> roots;
  for (size_t i = 0; i <= turn % 3; ++i)
    roots.push_back(terminals[(turn * 7 + i * terminals.size() / 3) % terminals.size()]);
  Best best;
  build(graph, p, terminals, best_ascent(graph, p, roots), 2 + turn % 3, best);
  if (turn > 0 && p.nodes() * p.edges.size() <= small_enough)
    improve_by_vertices(graph, p.terminal, best.tree);
  return reduction.expanded(best.tree.edges);
}

// Turns of ever other sizes until one wins nothing, or the balls are used up.
void improve(const SteinerGraph& graph, const SteinerProblem& p, const std::function<bool()>& stop,
             SteinerTree& tree, int64_t& balls) {
  if (p.nodes() * p.edges.size() <= small_enough) {
    improve_by_vertices(graph, p.terminal, tree);
    const int starts = static_cast<int>(std::clamp<int64_t>(balls, 1, 400));
    const auto solver = [](const SteinerProblem& small) { return small_tree(small, 2); };
    improve_by_starts(graph, p, {solver, starts, stop}, tree);
  }
  for (size_t turn = 0, idle = 0; balls > 0 && idle < 3 && !(stop && stop()); ++turn) {
    const int64_t before = tree.cost;
    RegionSearch search;
    search.solver = [turn](const SteinerProblem& small) { return small_tree(small, turn); };
    search.stop = stop;
    if (turn % 3 == 1) search.sizes = {100, 250, 700};
    if (turn % 3 == 2) search.sizes = {200, 550, 1500};
    improve_by_regions(graph, p.terminal, search, tree, balls);
    idle = tree.cost < before ? 0 : idle + 1;
  }
}

// The last ascent: on what may still be part of a better tree.
int64_t tightened(SteinerReduction& reduction, const SteinerProblem& p, const SteinerGraph& graph,
                  const Bounded& bounded, const SteinerTree& tree, size_t roots) {
  const int64_t gap = tree.cost - bounded.ascent.bound;
  if (gap <= 0 || !bounded.ascent.complete) return bounded.ascent.bound;
  const ReducedWays ways(graph, p, bounded.ascent, bounded.root);
  bool any = false;
  for (uint32_t e = 0; e < p.edges.size(); ++e) {
    if (!ways.excludes(e, gap)) continue;
    reduction.remove(e);
    any = true;
  }
  if (!any) return bounded.ascent.bound;
  const int64_t before = reduction.fixed();
  reduction.reduce();
  const SteinerProblem& rest = reduction.problem();
  const std::vector<uint32_t> terminals = terminals_of(rest);
  const int64_t fixed = reduction.fixed() - before;
  if (terminals.size() <= 1) return std::min(tree.cost, std::max(bounded.ascent.bound, fixed));
  const SteinerGraph rest_graph = steiner_graph(rest.nodes(), rest.edges);
  const Bounded again = best_ascent(rest_graph, rest, spread(terminals, roots));
  return std::min(tree.cost, std::max(bounded.ascent.bound, fixed + again.ascent.bound));
}

}  // namespace

SteinerAnswer steiner_solve(const SteinerProblem& problem, const SteinerRun& run) {
  SteinerReduction reduction(problem);
  reduction.reduce();
  const SteinerProblem p = reduction.problem();
  const std::vector<uint32_t> terminals = terminals_of(p);
  SteinerAnswer answer;
  if (terminals.size() <= 1) {
    answer.tree = reduction.expanded({});
    answer.bound = answer.tree.cost;
    return answer;
  }
  const Efforts effort = efforts(run.effort);
  const SteinerGraph graph = steiner_graph(p.nodes(), p.edges);
  const Bounded bounded = best_ascent(graph, p, spread(terminals, effort.roots));
  Best best;
  build(graph, p, terminals, bounded, effort.starts, best);
  const int64_t most =
      run.balls >= 0 ? run.balls : effort.balls_a_thousand * static_cast<int64_t>(p.nodes()) / 1000 + 1;
  int64_t left = most;
  improve(graph, p, run.stop, best.tree, left);
  answer.balls = most - left;
  answer.tree = reduction.expanded(best.tree.edges);
  const int64_t fixed = reduction.fixed();
  answer.bound = fixed + tightened(reduction, p, graph, bounded, best.tree, effort.roots);
  PLAN_CHECK(answer.bound <= answer.tree.cost);
  return answer;
}

namespace {

// 1 for every node that a root reaches.
std::vector<uint8_t> reached_from(const SteinerGraph& graph, std::span<const uint32_t> roots) {
  std::vector<uint8_t> reached(graph.nodes(), 0);
  std::vector<uint32_t> queue;
  const auto reach = [&](uint32_t v) {
    if (!reached[v]) reached[v] = 1, queue.push_back(v);
  };
  for (uint32_t r : roots) reach(r);
  for (size_t i = 0; i < queue.size(); ++i)
    for (const SteinerGraph::Arc& a : graph.at(queue[i])) reach(a.to);
  return reached;
}

}  // namespace

SteinerForestAnswer steiner_solve_forest(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                                         std::span<const uint32_t> roots, const SteinerRun& run) {
  if (roots.empty())
    return {oriented_forest(graph, std::vector<uint8_t>(graph.cost.size(), 0), terminals, roots), 0};
  const std::vector<uint8_t> reached = reached_from(graph, roots);
  SteinerProblem problem;
  problem.terminal.assign(graph.nodes(), 0);
  for (uint32_t t : terminals) problem.terminal[t] = reached[t];
  std::vector<uint8_t> is_root(graph.nodes(), 0);
  for (uint32_t r : roots) is_root[r] = 1, problem.terminal[r] = r == roots[0];
  const auto merged = [&](uint32_t v) { return is_root[v] ? roots[0] : v; };
  problem.edges.assign(graph.cost.size(), {0, 0, -1});
  for (uint32_t v = 0; v < graph.nodes(); ++v)
    for (const SteinerGraph::Arc& a : graph.at(v))
      if (v < a.to && reached[v]) problem.edges[a.edge] = {merged(v), merged(a.to), graph.cost[a.edge]};
  const SteinerAnswer answer = steiner_solve(problem, run);
  std::vector<uint8_t> chosen(graph.cost.size(), 0);
  for (uint32_t e : answer.tree.edges) chosen[e] = 1;
  return {oriented_forest(graph, chosen, terminals, roots), answer.bound};
}

}  // namespace plan
