#include "basis/cables.h"

#include <algorithm>
#include <tuple>

#include "model/fill.h"

namespace plan {
namespace {

bool fits(const Cable& cable, const DuctRules& rules, Length bore) {
  const FillRule& rule =
      cable.cable_class == CableClass::fibre_unit ? rules.unit_fill : rules.microcable_fill;
  return area_fill(cable.od, bore) <= rule.fail;
}

template <class Wanted>
CableChoice smallest(const FibreCatalogue& catalogue, int64_t fibres, Wanted&& wanted) {
  CableChoice best;
  const auto size = [&](CableId c) { return std::tuple(catalogue.cables[c].fibres, catalogue.cables[c].od); };
  for (CableId c : catalogue.cables.ids()) {
    const Cable& cable = catalogue.cables[c];
    if (!wanted(cable)) continue;
    best.largest = std::max(best.largest, cable.fibres);
    if (cable.fibres >= fibres && (!best.cable.valid() || size(c) < size(best.cable))) best.cable = c;
  }
  return best;
}

}  // namespace

CableChoice cable_for(const FibreCatalogue& catalogue, const DuctRules& rules, int64_t fibres, Length bore) {
  return smallest(catalogue, fibres, [&](const Cable& c) { return fits(c, rules, bore); });
}

CableChoice unit_for(const FibreCatalogue& catalogue, const DuctRules& ducts, const FibreRules& fibre,
                     int64_t fibres, Length bore) {
  if (fibre.unit_at_least.valid())
    fibres = std::max<int64_t>(fibres, catalogue.cables[fibre.unit_at_least].fibres);
  const auto of_class = [&](bool unit) {
    return smallest(catalogue, fibres, [&](const Cable& c) {
      return (c.cable_class == CableClass::fibre_unit) == unit && fits(c, ducts, bore);
    });
  };
  const CableChoice unit = of_class(true);
  if (unit.cable.valid()) return unit;
  const CableChoice cable = of_class(false);
  return {cable.cable, std::max(unit.largest, cable.largest)};
}

Length drop_bore(const DuctCatalogue& catalogue, const DuctRules& rules) {
  if (!rules.drop_microduct.valid()) return {};
  const Length drop = catalogue.microducts[rules.drop_microduct].id;
  if (!rules.distribution_microduct.valid()) return drop;
  return std::min(drop, catalogue.microducts[rules.distribution_microduct].id);
}

}  // namespace plan
