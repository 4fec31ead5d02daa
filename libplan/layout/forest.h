// The trench forest: a tree from every headend over the spans that are worth digging, and where on it
// stations may stand. Everything after it works along these trees.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "basis/basis.h"
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

// 1 where a span may be used: usable, not forbidden, not asked to be avoided.
Table<SpanId, uint8_t> open_spans(const Network& network, const Basis& basis, const Asks& asks);

// Joins every planned premises that can be reached. With cabinets at listed sites only, branches lead on
// to all allowed sites: they cost nothing unless a cabinet is fed through them.
TrenchForest trench_forest(const Network& network, const Basis& basis, const Table<SpanId, uint8_t>& open);

// Where a kind of station may stand, and for every node of the forest the nearest such nodes along it.
class StationPlaces {
 public:
  struct Near {
    NodeId node;  // invalid: there is no more
    int64_t distance = INT64_MAX;
  };
  StationPlaces(const TrenchForest& forest, Table<NodeId, uint8_t> allowed, size_t how_many);
  bool allowed(NodeId n) const { return allowed_[n] != 0; }
  std::span<const Near> near(NodeId n) const {
    return std::span<const Near>(near_).subspan(n.value * how_many_, how_many_);
  }
  int64_t nearest(NodeId n) const { return near_[n.value * how_many_].distance; }  // INT64_MAX: none

 private:
  void offer(NodeId to, Near near);
  Table<NodeId, uint8_t> allowed_;
  size_t how_many_;
  std::vector<Near> near_;  // how_many a node, nearest first
};
// Branch points stand at street nodes; cabinets at listed sites where only those are allowed, else at
// street nodes and sites that nobody forbids.
StationPlaces branch_point_places(const TrenchForest& forest, const Network& network);
StationPlaces cabinet_places(const TrenchForest& forest, const Network& network, const Basis& basis);

}  // namespace plan
