// Private to `fibre`: orders of links and splitters, and what follows from them.
#pragma once
#include <vector>

#include "fibre/fibre.h"

namespace plan {

// The links that leave each station, in their own order.
Lists<StationId, LinkId> links_by_station(const Layout& layout);

// Splitters are made from the far ends inwards; gives them ids by station, then stage.
void order_splitters(Fibre& fibre);

// From the splitters on OLT ports down to the dwellings, and counts the dwellings of each PON; `day_one`, by
// dwelling, says which are expected on day one. Splitters must be in order.
void hand_down_pons(Fibre& fibre, const std::vector<uint8_t>& day_one);

}  // namespace plan
