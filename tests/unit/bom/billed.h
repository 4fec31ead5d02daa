// A planned and programmed estate with its bill.
#pragma once
#include "bom/bom.h"
#include "unit/schedule/programmed.h"

namespace plan {

struct Billed : Programmed {
  Bill bill;
  template <class From>
  explicit Billed(From from) : Programmed(std::move(from)) {
    bill = make_bill(bill_input(), {});
  }
  BillInput bill_input() const { return {takeoff, schedule, *s.prices, *s.stock}; }
};

}  // namespace plan
