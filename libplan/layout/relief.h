// Feeders led round spans that hold more bundles than may lie there.
//
// Where many cabinets hang on one trunk, its bundles exceed what a trench may hold while other trunks have
// room. For every crowded span, branches below it are hung elsewhere, one after the other: the path to a node
// below no crowded span that costs least in trench and feeder, with all that hangs on it still within the
// longest feeder; until a quarter of its feeders has left, as often as it was asked.
#pragma once
#include <span>
#include <vector>

#include "layout/shortening.h"

namespace plan {

// `cabinets`: nodes that a feeder leads to. `crowded`: sorted, a span once for every time it was asked. True
// if anything moved. A move costs what lies within the limit of the cabinets below.
bool relieve(TrenchForest& forest, const ShorteningGround& ground, const std::vector<NodeId>& cabinets,
             std::span<const SpanId> crowded);

}  // namespace plan
