// Private to `fibre`: which cable a link gets and how long it is.
#pragma once
#include "fibre/fibre.h"

namespace plan {

// Fills fibre.cables and the findings of links; grouping must be done.
void choose_cables(const FibreInput& input, Fibre& fibre);

}  // namespace plan
