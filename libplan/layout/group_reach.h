// Whether one station can stand in reach of all members of a group, from two of them alone: in a tree the
// member whose reach runs out first, seen from anywhere, is an end of the longest path, and a place in
// reach of all exists exactly if one lies near enough to that path's middle.
#pragma once
#include <cstdint>

#include "layout/places.h"

namespace plan {

// What one microduct from a station leads to.
struct GroupMember {
  NodeId node;
  int dwellings = 1;  // whose ports it takes there
  int64_t reach = 0;  // mm: the station stands no farther along the forest
};

struct FarEnd {
  NodeId node;
  int64_t reach = 0;
};
// The longest path, each end counted from where its reach runs out.
struct GroupReach {
  FarEnd a, b;                 // the same twice for a single member
  NodeId meet;                 // where the path from a to b turns
  int64_t length = INT64_MIN;  // less both reaches; this for a single member
};

GroupReach reach_of(const GroupMember& member);
// Of two groups in different branches of `meet`, O(1).
GroupReach united(const TrenchForest& forest, const GroupReach& x, const GroupReach& y, NodeId meet);
// Of a group and one more member anywhere in its tree, O(log n).
GroupReach united(const TrenchForest& forest, const GroupReach& x, const GroupMember& member);
// How far beyond the first reach to run out a node above the group lies; 0 or less is in reach of all.
int64_t overrun(const TrenchForest& forest, const GroupReach& x, NodeId above);
// The same for the headend of its tree.
int64_t overrun_at_headend(const TrenchForest& forest, const GroupReach& x);
// O(log n).
bool has_place(const TrenchForest& forest, const StationPlaces& places, const GroupReach& x);

}  // namespace plan
