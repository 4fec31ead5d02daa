// The street graph as compressed sparse rows: for every node the arcs that leave it. An undirected
// multigraph; an edge is known by its span id, so parallel edges and self-loops keep their identity.
//
//   Table<SpanId, Ends> ends;               ends.add({from, to});
//   StreetGraph g(node_count, ends);        // all spans, or only those with allowed[span] != 0
//   for (Arc arc : g.arcs(node)) ...        // by span id; a self-loop stands here once
//   Table<NodeId, uint32_t> c = components(g);
//   PathTree t = shortest_paths(g, cost, sources);
//
// Costs are integers, 0 or more, one per span; sums stay below `unreachable` as long as the number of
// nodes times the dearest span does. Whole-graph passes run in Boost.Graph; searches that end early or
// are repeated from many places: graph/search.h. Building is O(nodes + spans).
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "base/id.h"

namespace plan {

inline constexpr int64_t unreachable = INT64_MAX;

struct Ends {
  NodeId from, to;
  friend bool operator==(const Ends&, const Ends&) = default;
};
struct Arc {
  NodeId to;
  SpanId span;
  friend bool operator==(const Arc&, const Arc&) = default;
};

class StreetGraph {
 public:
  StreetGraph() = default;
  StreetGraph(size_t nodes, const Table<SpanId, Ends>& ends) : StreetGraph(nodes, ends, {}) {}
  // `allowed` empty = every span.
  StreetGraph(size_t nodes, const Table<SpanId, Ends>& ends, const Table<SpanId, uint8_t>& allowed);

  size_t nodes() const { return first_.empty() ? 0 : first_.size() - 1; }
  std::span<const Arc> arcs(NodeId n) const {
    return std::span<const Arc>(arcs_).subspan(first_[n.value], first_[n.value + 1] - first_[n.value]);
  }
  size_t arc_count() const { return arcs_.size(); }

 private:
  std::vector<uint32_t> first_;  // nodes + 1
  std::vector<Arc> arcs_;
};

// Connected components 0 …, numbered by their smallest node.
Table<NodeId, uint32_t> components(const StreetGraph& graph);

struct PathTree {
  Table<NodeId, int64_t> cost;   // to the nearest source; `unreachable` where there is none
  Table<NodeId, SpanId> by;      // last span of the path; invalid at sources and where unreachable
  Table<NodeId, NodeId> before;  // the node on its other side
};
// Cheapest paths from every node to its nearest source (Dijkstra, Numer. Math. 1, 1959).
PathTree shortest_paths(const StreetGraph& graph, const Table<SpanId, int64_t>& cost,
                        std::span<const NodeId> sources);

}  // namespace plan
