// To which area everything belongs, and how much of each span is opened.
#pragma once
#include "takeoff/takeoff.h"

namespace plan {

// Fills area, link_area, run_area, span_area and opened.
void find_areas(const TakeoffInput& input, Takeoff& out);
// Length of a span that is dug: all of it, the drop of a premises on order as far as it is laid now.
Length opened_length(const TakeoffInput& input, SpanId span, PremisesId premises);

}  // namespace plan
