// From a map and the drafted routes to premises: which buildings and address points are one, how many
// dwellings each holds, what it is called, and where its drop leaves which street.
//
// One premises per building or address point, never both for one building. Address points of one
// position (0.1 m) are one; those within 1 m of a building belong to the nearest one; the others are
// premises of their own and stay where they are. A building stands at the centroid of its largest outer
// ring and is left out (with a remark) where it is smaller than 25 m2 or an outbuilding, unless it has a
// number or an address point; of buildings of one centroid (0.1 m) and area (1 m2) in a vector source the
// first stays.
//
// The drop is a straight line from a route with `drops` to the entry: for a building the point of its walls
// nearest to where the drop leaves the route, found by at most eight turns between the two; it leaves at the
// point of that street nearest to the entry. The street is the nearest one, or its own where names agree
// (names.h) and that one is, from `centre`, at most `own_street_factor` times as far. Where the drop runs
// through another building, another premises' plot, rail, water or a motorway, the shortest free drop from
// another wall point or another route within the factor is taken, own street before others; where none is
// free it stays as it was, with a remark. Ties: by order of the routes.
//
// Every premises is kept, however far its street. Exact and deterministic; n log n in time, also for
// premises all on one spot; no allocation per premises but its texts.
//
//   const MadePremises made = make_premises(map, plane, draft.routes, {});
#pragma once
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "base/run.h"
#include "estate/draft.h"
#include "estate/map.h"
#include "estate/plane.h"

namespace withy {

// Choices without a published source are common practice, no source.
struct PremisesRules {
  double least_area = 25;  // m2 on the ground, smaller is a shed
  plan::Length address_reach = plan::metres(1);
  double own_street_factor = 2.0;
  plan::Length indoor = plan::metres(3);           // from the wall to where the unit ends
  plan::Length boundary_offset = plan::metres(2);  // from the street, at most half the drop
  plan::Length far = plan::metres(200);            // a longer drop is remarked
  plan::Length inside_another = plan::metres(1);   // a drop may cut a corner by this much
  double area_per_dwelling = 100;                  // m2 of floor with walls and stairs
  // A building of more dwellings gets a building point and a riser: up to four doors are commonly reached
  // by a microduct each.
  int most_single_dwellings = 4;
  plan::Length storey = plan::metres(3);
  int usual_levels = 3;  // of such a building where the map does not say
};

// How many of what, for the report.
struct PremisesCounts {
  uint64_t buildings = 0, too_small = 0, outbuildings = 0, duplicate_buildings = 0, without_outline = 0;
  uint64_t address_points = 0, merged_points = 0;  // surplus ones at a position
  uint64_t points_in_buildings = 0;
  uint64_t premises_of_buildings = 0, premises_of_points = 0;
  uint64_t addresses = 0;  // one for each premises without an address point, else its points
  uint64_t multi_dwelling = 0;
  uint64_t without_street = 0, far = 0, on_restricted = 0;
  uint64_t named = 0;                                     // premises with a street name
  uint64_t nearest_is_other = 0, nearest_is_unnamed = 0;  // of these: the nearest route's name
  uint64_t moved_to_own_street = 0;
  uint64_t moved_round = 0;  // to a free drop
  uint64_t through_building = 0, through_plot = 0, across_rail = 0, across_water = 0, across_motorway = 0;
  uint64_t boundary_mapped = 0;
};

struct MadePremises {
  std::vector<DraftPremises> premises;  // in Hilbert order of their centres
  std::vector<MapRemark> remarks;
  PremisesCounts counts;
};

MadePremises make_premises(const Map& map, const Plane& plane, std::span<const DraftRoute> routes,
                           const PremisesRules& rules, const plan::Run& run = {});

// Whether `kind`, a value of OpenStreetMap's key `building`, is nothing that is connected.
bool is_outbuilding(std::string_view kind);

}  // namespace withy
