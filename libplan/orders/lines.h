// What the lines of a stop look up again and again.
#pragma once
#include "orders/orders.h"

namespace plan {

// Index of the Cut of a run or a link; UINT32_MAX where there is none. Cuts are sorted by item.
uint32_t cut_of_run(const OrdersInput& input, RunId run);
uint32_t cut_of_link(const OrdersInput& input, LinkId link);
// Bundle or cable item of a catalogue id.
ItemId item_of(const Takeoff& takeoff, ItemKind kind, uint32_t index);

}  // namespace plan
