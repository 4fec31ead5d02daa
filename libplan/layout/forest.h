// The trench forest: a tree from every headend over the spans that are worth digging. Everything after it
// works along these trees.
#pragma once
#include <cstdint>
#include <vector>

#include "basis/basis.h"
#include "graph/street_graph.h"
#include "layout/layout.h"
#include "network/network.h"

namespace plan {

// Nodes outside the forest have no headend. Depths are duct path lengths in millimetres.
struct TrenchForest {
  Table<NodeId, NodeId> parent;  // invalid at roots and outside
  Table<NodeId, SpanId> parent_span;
  Table<NodeId, int64_t> depth;  // to the headend
  Table<NodeId, HeadendId> headend;
  Table<NodeId, uint32_t> level;     // spans to the headend
  Table<NodeId, NodeId> jump;        // an ancestor, for climbing in O(log n)
  Table<NodeId, uint32_t> position;  // in `order`
  std::vector<NodeId> order;         // a walk down the trees: every subtree is one piece of it

  bool holds(NodeId n) const { return headend[n].valid(); }
  // The highest node on the way up from `n` that is at least `depth` deep; `n` itself is.
  NodeId climb(NodeId n, int64_t least_depth) const;
  NodeId meet(NodeId a, NodeId b) const;  // of one tree; O(log n)
  int64_t length(NodeId a, NodeId b) const { return depth[a] + depth[b] - 2 * depth[meet(a, b)]; }
  // Spans of the path, in order from `from`.
  std::vector<SpanId> path(NodeId from, NodeId to) const;
};

bool site_is_allowed(const Basis& basis, SiteId s);

// 1 where a span may be used: usable, not forbidden, not asked to be avoided.
Table<SpanId, uint8_t> open_spans(const Network& network, const Basis& basis, const Asks& asks);

StreetGraph open_graph(const Network& network, const Table<SpanId, uint8_t>& open);

// Joins every planned premises that can be reached. With cabinets at listed sites only, branches lead on
// to all allowed sites: they cost nothing unless a cabinet is fed through them.
TrenchForest trench_forest(const Network& network, const Basis& basis, const Table<SpanId, uint8_t>& open);

// After parents have changed: cuts branches that lead to no planned premises and no site to be kept, and sets
// all that follows from the parents.
void tidy(TrenchForest& forest, const Network& network, const Basis& basis);

}  // namespace plan
