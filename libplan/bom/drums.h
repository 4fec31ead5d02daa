// Drum planning: which length is cut from which drum.
#pragma once
#include "bom/bom.h"

namespace plan {

// The crew-day on which each cut of the take-off is used, and its task's start for the order of use;
// cuts that nobody lays or blows come last.
struct CutUse {
  Work at;
  Date on;
};
std::vector<CutUse> uses_of_cuts(const BillInput& input);

// Fills drums, drum_cuts, cuts and drums_bound.
void plan_drums(const BillInput& input, const std::vector<CutUse>& uses, Bill& bill);

}  // namespace plan
