// Cheapest paths that end early, from one or many seeds, again and again: a search costs what it
// touches, not what the graph holds.
//
//   Search search(graph);
//   search.from(cabinet, [&](SpanId s) { return cost[s]; }, [&](NodeId, int64_t c) { return c > limit; });
//   for (NodeId n : search.settled()) use(search.cost(n), search.path(n));
//
// `cost(SpanId)` gives an integer 0 or more, or a negative number where the span may not be used.
// `stop(NodeId, int64_t)` is asked at each node as it is settled, in order of cost, then node id: true
// ends the search with that node as its answer, and it is settled. Costs equal Dijkstra's over the whole
// graph for every settled node; ties fall the same way on every machine. One Search a thread.
#pragma once
#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "base/check.h"
#include "graph/street_graph.h"

namespace plan {

struct Seed {
  NodeId node;
  int64_t cost = 0;
};

class Search {
 public:
  explicit Search(const StreetGraph& graph) : graph_(&graph), states_(graph.nodes()) {}

  // The node at which `stop` said true; invalid where it never did.
  template <class Cost, class Stop>
  NodeId from(std::span<const Seed> seeds, Cost&& cost, Stop&& stop) {
    forget();
    for (const Seed& s : seeds) reach(s.node, {s.cost, {}, {}, s.node});
    while (!heap_.empty()) {
      const auto [here_cost, here] = pop();
      State& here_state = states_[here];
      if (here_state.settled) continue;
      here_state.settled = true;
      settled_.push_back(here);
      if (stop(here, here_cost)) return here;
      for (const Arc& arc : graph_->arcs(here)) {
        if (states_[arc.to].settled) continue;
        const int64_t step = cost(arc.span);
        if (step >= 0) reach(arc.to, {here_cost + step, arc.span, here, states_[here].seed});
      }
    }
    return {};
  }
  template <class Cost, class Stop>
  NodeId from(NodeId source, Cost&& cost, Stop&& stop) {
    const Seed seed{source, 0};
    return from(std::span<const Seed>(&seed, 1), cost, stop);
  }
  // To the end of the component.
  template <class Cost>
  void from(std::span<const Seed> seeds, Cost&& cost) {
    from(seeds, cost, [](NodeId, int64_t) { return false; });
  }

  // Answers about the last search. A node that it only saw has its best cost so far.
  bool is_settled(NodeId n) const { return states_[n].settled; }
  int64_t cost(NodeId n) const { return states_[n].cost; }
  SpanId by(NodeId n) const { return states_[n].by; }
  NodeId before(NodeId n) const { return states_[n].before; }
  NodeId seed(NodeId n) const { return states_[n].seed; }
  std::span<const NodeId> settled() const { return settled_; }  // in the order they were settled
  // Spans from the seed to the node.
  std::vector<SpanId> path(NodeId to) const {
    std::vector<SpanId> spans;
    for (NodeId n = to; states_[n].by.valid(); n = states_[n].before) spans.push_back(states_[n].by);
    std::reverse(spans.begin(), spans.end());
    return spans;
  }

 private:
  struct State {
    int64_t cost = unreachable;
    SpanId by;
    NodeId before, seed;
    bool settled = false;
  };
  struct Reach {
    int64_t cost;
    SpanId by;
    NodeId before, seed;
  };
  struct Entry {
    int64_t cost;
    NodeId node;
    friend bool operator<(const Entry& a, const Entry& b) {  // for a heap with the least on top
      return a.cost != b.cost ? a.cost > b.cost : a.node > b.node;
    }
  };

  void forget() {
    for (NodeId n : touched_) states_[n] = {};
    touched_.clear();
    settled_.clear();
    heap_.clear();
  }
  void reach(NodeId n, const Reach& r) {
    State& s = states_[n];
    if (r.cost >= s.cost) return;
    if (s.cost == unreachable) touched_.push_back(n);
    s = {r.cost, r.by, r.before, r.seed, false};
    heap_.push_back({r.cost, n});
    std::push_heap(heap_.begin(), heap_.end());
  }
  Entry pop() {
    std::pop_heap(heap_.begin(), heap_.end());
    const Entry top = heap_.back();
    heap_.pop_back();
    return top;
  }

  const StreetGraph* graph_;
  Table<NodeId, State> states_;
  std::vector<NodeId> touched_, settled_;
  std::vector<Entry> heap_;
};

}  // namespace plan
