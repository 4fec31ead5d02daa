// What the rows of an estate's two tables say, in the scenario's own words, whatever file they go into.
#pragma once
#include <array>
#include <string>

#include "estate/draft.h"
#include "estate/estate_table.h"
#include "estate/plane.h"

namespace withy {

using PremisesValues = std::array<std::string, 11>;
using RouteValues = std::array<std::string, 16>;

const std::array<EstateTable::Column, 11>& premises_columns();
const std::array<EstateTable::Column, 16>& route_columns();
PremisesValues values_of(const DraftPremises& premises);
RouteValues values_of(const DraftRoute& route);

// Remarks where the scenario takes less than the source says: more dwellings than a premises may state, a
// bore that no duct has. The rows say the nearest that it takes.
void remark_clamped(Draft& draft, const Plane& plane);

}  // namespace withy
