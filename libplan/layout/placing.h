// Where the station of a group stands: the place in reach of all its members with the least microduct and
// feeder metres, a weighted median of the tree. A place off the crossings goes before one on them, both
// before a place already taken, and all of them before one beyond the longest feeder.
#pragma once
#include <cstdint>
#include <vector>

#include "layout/groups.h"

namespace plan {

// Price of a metre of feeder and of a microduct to one member, as small whole numbers in their proportion,
// and the longest feeder in millimetres.
struct MetreWeights {
  int64_t feeder = 1, member = 1;
  int64_t longest_feeder = INT64_MAX;
};
// A microduct's share of the largest bundle, and the unit blown into it.
UnitPrice microduct_metre(const Basis& basis);
MetreWeights metre_weights(const Basis& basis);

class StationPlacer {
 public:
  StationPlacer(const Network& network, const TrenchForest& forest);
  // The node for a group that was cut with these places and members.
  NodeId best(const StationGroup& group, const std::vector<GroupMember>& members, const StationPlaces& places,
              MetreWeights weights);
  // No other station should stand there from now on.
  void take(NodeId n) { taken_[n] = 1; }
  void leave(NodeId n) { taken_[n] = 0; }

 private:
  struct Local {  // a node of the subtree that the group spans, parents first
    NodeId node;
    uint32_t parent = 0;  // index into local_; its own at the top
    int64_t members_below = 0;
    bool above_a = false, above_b = false;
    int64_t cost = 0, to_a = 0, to_b = 0;
  };
  void span(const StationGroup& group, const std::vector<GroupMember>& members);
  void weigh(const StationGroup& group, const std::vector<GroupMember>& members, MetreWeights weights);

  const TrenchForest* forest_;
  Table<NodeId, uint8_t> crossing_, taken_;
  Table<NodeId, uint32_t> index_;  // into local_; none outside the group at hand
  std::vector<Local> local_;
};

}  // namespace plan
