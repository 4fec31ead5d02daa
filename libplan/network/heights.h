// Heights of the street nodes, from the heights that routes carry at the vertices of their lines.
//
// Where something hangs on a leg the height is interpolated along it. A place with several heights (two
// surveys of one crossing) takes the one of the first route in order. Private to `network`.
#pragma once
#include <utility>
#include <vector>

#include "network/hang.h"
#include "scenario/demand.h"

namespace plan {

// Sorted by place, one height a place; empty where no route carries heights.
std::vector<std::pair<Point, Length>> known_heights(const Demand& demand, const Hangs& hangs);

}  // namespace plan
