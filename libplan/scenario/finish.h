// From the draft to the slices: what can only be checked across rows and sections.
#pragma once
#include "scenario/draft.h"
#include "scenario/reader.h"

namespace plan {

struct Finish {
  Reading& reading;
  const Tree& document;
  Diagnostics& warnings;
  void fault(const Spot& at, const auto& make) const {
    reading.faults.add([&] { return spot_fault(reading, document, at, make()); });
  }
};

// Fills demand and the places of premises and routes; the draft's estate is used up.
void finish_estate(const Finish& f, Draft& draft, Scenario& into);
// Split, fill and radius rules, catalogue figures that contradict each other.
void finish_rules(const Finish& f, const Draft& draft, Scenario& into);
// Prices, stock, crews, rates.
void finish_works(const Finish& f, Draft& draft, Scenario& into);

}  // namespace plan
