// Private to plan: what later stages found out, as Asks for the next round.
#pragma once
#include "plan/plan.h"

namespace plan {

// The asks of `round` and what its findings add to them. Equal to round.asks when nothing can be asked.
Asks next_asks(const Round& round, const Network& network);

}  // namespace plan
