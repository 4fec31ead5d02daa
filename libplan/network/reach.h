// Components of the street graph over the spans that may be used, and what no headend reaches.
#pragma once
#include "network/network.h"

namespace plan {

// Fills component, components and reached, and adds a finding for every premises that hangs on a street
// which no headend reaches, with the shortest straight gap from its component's routes to a reached one
// (an existing duct counts with its ends only).
void find_reached(const Demand& demand, Network& network);

}  // namespace plan
