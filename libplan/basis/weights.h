// What layout weighs: prices of a metre and a piece at design prices. Private to `basis`.
#pragma once
#include "basis/basis.h"

namespace plan {

// Fills open_cost, lay_cost, metre_by_ways, unit_metre, feeder_metre, cabinet_cost and joint_cost; the
// commonest unit, the usual feeder cable and the cabinet are known by now.
//
// A special crossing is weighed by the metre of its route. A surface without a price weighs as much as the
// dearest priced one, and is a finding; a bundle without one weighs as many of the dearest priced ways as it
// has. A price of nothing would draw the plan there.
struct CommonCables {
  CableId unit, feeder;
};
void weigh(const Scenario& scenario, const Network& network, const CommonCables& cables, Basis& basis);

}  // namespace plan
