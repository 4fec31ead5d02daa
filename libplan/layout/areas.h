// Areas of cabinets and what headends serve themselves, priced.
#pragma once
#include <vector>

#include "layout/groups.h"
#include "layout/placing.h"

namespace plan {

struct AreaGround {
  const Basis& basis;
  const TrenchForest& forest;
  const StationPlaces& places;
  const std::vector<GroupMember>& members;
};
struct AreaPlan {
  std::vector<StationGroup> areas;
  std::vector<NodeId> cabinets;  // of each area; invalid where its headend serves it
  StationPlacer placer;          // knows what is taken
};

// The cheaper of two cuts, compact areas or full cabinets, by the price of cabinets, feeder and microduct
// metres. Headends take whole areas in their reach, the nearest first, as far as their `entries` go; the
// others trade members.
AreaPlan plan_areas(const AreaGround& ground, const Table<HeadendId, int>& entries,
                    const StationPlacer& placer);

// Areas in which a member lies beyond its `asked` reach are cut again among themselves; the others stay.
void cut_again(AreaPlan& plan, const AreaGround& ground, const std::vector<GroupMember>& asked);

}  // namespace plan
