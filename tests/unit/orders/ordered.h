// A planned, programmed and billed estate with its work orders.
#pragma once
#include "orders/orders.h"
#include "unit/bom/billed.h"

namespace plan {

struct Ordered : Billed {
  Orders orders;
  template <class From>
  explicit Ordered(From from) : Billed(std::move(from)) {
    orders = make_orders(orders_input(), {});
  }
  OrdersInput orders_input() const {
    return {network, layout,   ducts, fibre,     blowing,           optics,
            takeoff, schedule, bill,  *s.demand, *s.duct_catalogue, *s.fibre_catalogue,
            *s.crews};
  }
};

}  // namespace plan
