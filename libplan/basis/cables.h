// The smallest unit or cable for a number of fibres and a bore. Private to `basis`.
#pragma once
#include "scenario/catalogue.h"
#include "scenario/rules.h"

namespace plan {

struct CableChoice {
  CableId cable;    // invalid where none fits
  int largest = 0;  // fibres of the largest that fits the bore
};

// The smallest with at least `fibres` that the fill rule lets into the bore: of any class.
CableChoice cable_for(const FibreCatalogue& catalogue, const DuctRules& rules, int64_t fibres, Length bore);

// What is blown to a premises: a fibre unit, never below the rules' smallest; where the units end, the
// smallest mini cable or microcable.
CableChoice unit_for(const FibreCatalogue& catalogue, const DuctRules& ducts, const FibreRules& fibre,
                     int64_t fibres, Length bore);

// The narrower of the microducts that a drop goes through; no width where a rule names none.
Length drop_bore(const DuctCatalogue& catalogue, const DuctRules& rules);

}  // namespace plan
