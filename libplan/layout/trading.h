// Neighbouring areas trade members: who is nearer to another area's station goes there if it has room, or
// in exchange for one of its members where the two together win microduct metres. After every round the
// stations move to the places that are best for what they serve now. Limits and reaches stay held; no
// area is added, one that is emptied is gone.
#pragma once
#include "layout/groups.h"
#include "layout/placing.h"

namespace plan {

struct TradingGround {
  const TrenchForest& forest;
  const StationPlaces& places;
  const std::vector<GroupMember>& members;
  GroupLimits limits;
  MetreWeights weights;
};
std::vector<StationGroup> traded(const TradingGround& ground, std::vector<StationGroup> groups,
                                 StationPlacer& placer);

}  // namespace plan
