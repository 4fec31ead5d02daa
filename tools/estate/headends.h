// Where headends could stand: a proposal that the scenario states and the designer moves.
//
// Each component of the routes with at least `least_dwellings` gets one headend per at most
// `most_dwellings` of its dwellings. Its premises are cut in two by position, across their longer extent,
// in the proportion of the headends on both sides, until each part needs one; the site is the street
// vertex of the component nearest to the median of the part's dwellings. Where no component is large
// enough the one with the most dwellings gets a headend all the same: an estate without one is no estate.
// Same draft, same proposal, whatever the order of its rows; O(p log p log h).
//
// 20,000 dwellings: a headend building of the size that access networks run with, common practice, no
// source. 50 dwellings: below it a link to the next component is cheaper than a building, likewise.
#pragma once
#include <cstdint>
#include <functional>

#include "estate/components.h"
#include "estate/draft.h"

namespace withy {

struct HeadendRules {
  int64_t most_dwellings = 20'000, least_dwellings = 50;
};

// Fills draft.headends ("Headend 1", …, by component, then by cut), marks the components that have one
// and measures the gaps of those that have none.
void propose_headends(Draft& draft, Components& components, const HeadendRules& rules);

// A remark for each component that has premises and no headend, at the leg where it comes nearest to one
// that has; `place` leads from the plane back to what the map's places are in.
void remark_unreached(Draft& draft, const Components& components,
                      const std::function<MapPlace(plan::Point)>& place);

}  // namespace withy
