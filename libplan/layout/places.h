// Where stations may stand on the trench forest.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "layout/forest.h"

namespace plan {

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
Table<NodeId, uint8_t> cabinet_nodes(const TrenchForest& forest, const Network& network, const Basis& basis);
StationPlaces branch_point_places(const TrenchForest& forest, const Network& network);
StationPlaces cabinet_places(const TrenchForest& forest, const Network& network, const Basis& basis);

}  // namespace plan
