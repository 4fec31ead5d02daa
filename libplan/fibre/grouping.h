// Private to `fibre`: who shares a splitter, which fibre feeds it, which OLT port lights it.
#pragma once
#include <vector>

#include "fibre/fibre.h"

namespace plan {

// A splitter's feed positions and a dwelling's light path are final; cables, counts and findings follow.
// Fills dwellings, first_dwelling, splitters (types left out), pons, throughs, and feed_fibres of stations.
void group(const FibreInput& input, Fibre& fibre);

}  // namespace plan
