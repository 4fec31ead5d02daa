// Cutting a forest into groups, each to be served by one station: premises by branch points, premises or
// branch points by cabinets.
#pragma once
#include <cstdint>
#include <vector>

#include "layout/group_reach.h"

namespace plan {

struct GroupLimits {
  int members = 1, dwellings = 1;
  bool fill_up = false;  // fewer groups, longer paths
};
struct StationGroup {
  std::vector<uint32_t> members;  // indices, in the order of a walk down the forest
  int dwellings = 0;
  NodeId top;  // all its members lie below this node
  GroupReach reach;
};

// The group of some members of one tree.
StationGroup group_of(const TrenchForest& forest, const std::vector<GroupMember>& members,
                      std::vector<uint32_t> which);

// From the far ends inwards: at every node the groups of its branches are packed, the fullest first, each
// into the first that has room and keeps a place in reach. The one with most room that can still be
// reached from here goes on; the others are closed, filled up with members of it where that is asked.
// Every member must have a place within its reach; a member above the limits alone is a group alone.
// O(n log n).
std::vector<StationGroup> cut_into_groups(const TrenchForest& forest, const StationPlaces& places,
                                          const std::vector<GroupMember>& members, GroupLimits limits);

}  // namespace plan
