// A name for every route, once in the estate: "Mill Lane" where the street has one route, "Mill Lane 1",
// "Mill Lane 2" in the order of their lines where it has several, "way 4031" where the street is unnamed.
#pragma once
#include <vector>

#include "estate/draft.h"

namespace withy {

void name_routes(std::vector<DraftRoute>& routes);
// "way 4031", "feature 17", "relation 5".
std::string id_text(const MapId& id);

}  // namespace withy
