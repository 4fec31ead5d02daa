// Which trench forest stands, and who is served from where on it.
#pragma once
#include "layout/forest.h"
#include "layout/serving.h"

namespace plan {

struct LayoutDraft {
  TrenchForest forest;
  Layout layout;  // stations, links and routes
  Money price;    // trench, cabinets, metres of feeder and microduct
};

// The forest of least trench, shortened until every feeder that can be within its limit is: by all places
// where a cabinet may stand, or by the cabinets alone where that is cheaper. Then all places to three
// quarters of the limit, and of that again, as long as the price falls by a thousandth. Asks of premises are
// not looked at, so that nothing moves for them but the areas they are made in.
LayoutDraft best_draft(const LayoutInput& input, const StagePlan& stages, const Table<SpanId, uint8_t>& open);

}  // namespace plan
