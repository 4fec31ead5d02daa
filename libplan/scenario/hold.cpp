// A held result speaks in ids: of the estate's rows, of the split's stages, of catalogue entries.
#include <algorithm>

#include "scenario/scenario.h"

namespace plan {

namespace {

bool same_estate(const Scenario& a, const Scenario& b) {
  const Demand &x = *a.demand, &y = *b.demand;
  return a.demand.identical(b.demand) ||
         (x.premises == y.premises && x.routes == y.routes && x.headends == y.headends &&
          x.sites == y.sites && x.surfaces == y.surfaces && x.crossings == y.crossings);
}

// The same stages at the same places, of whatever ratio.
bool same_stages(const std::vector<SplitStage>& a, const std::vector<SplitStage>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const SplitStage& x, const SplitStage& y) { return x.at == y.at; });
}

template <class Rows>
bool same_names(const Rows& a, const Rows& b) {
  auto there = b.begin();
  for (auto here = a.begin(); here != a.end(); ++here, ++there)
    if (there == b.end() || here->name != there->name) return false;
  return there == b.end();
}

bool same_ducts(const DuctCatalogue& a, const DuctCatalogue& b) {
  return same_names(a.microducts, b.microducts) && same_names(a.bundles, b.bundles) &&
         same_names(a.chambers, b.chambers);
}

bool same_parts(const Scenario& a, const Scenario& b) {
  return same_names(a.duct_catalogue->fittings, b.duct_catalogue->fittings) &&
         same_names(a.duct_catalogue->cabinets, b.duct_catalogue->cabinets) &&
         same_names(a.fibre_catalogue->cables, b.fibre_catalogue->cables) &&
         same_names(a.fibre_catalogue->splitters, b.fibre_catalogue->splitters);
}

}  // namespace

Hold most_held(const Scenario& base, const Scenario& edit) {
  if (!same_estate(base, edit) || base.site != edit.site ||
      !same_stages(base.layout_rules->split, edit.layout_rules->split))
    return Hold::nothing;
  if (!same_ducts(*base.duct_catalogue, *edit.duct_catalogue)) return Hold::layout;
  return same_parts(base, edit) ? Hold::quantities : Hold::ducts;
}

}  // namespace plan
