#include "fibre/cables.h"

#include <tuple>

#include "model/fill.h"
#include "model/price.h"

namespace plan {
namespace {

// The narrowest microduct of the link's path; by the rules where it has none.
MicroductId bore_of(const FibreInput& input, LinkId l) {
  const auto& microducts = input.duct_catalogue.microducts;
  MicroductId narrowest;
  if (l.value < input.ducts.paths.size()) {
    for (SectionId s : input.ducts.paths[l]) {
      const BundleId bundle = input.ducts.runs[input.ducts.sections[s].run].bundle;
      if (!bundle.valid()) continue;
      const MicroductId m = input.duct_catalogue.bundles[bundle].microduct;
      if (m.valid() && (!narrowest.valid() || microducts[m].id < microducts[narrowest].id)) narrowest = m;
    }
  }
  if (narrowest.valid()) return narrowest;
  const Link& link = input.layout.links[l];
  if (link.premises.valid()) return input.basis.needs[link.premises].microduct;
  const bool branch = input.layout.stations[link.to].kind == StationKind::branch_point;
  return branch ? input.duct_rules.distribution_microduct : input.duct_rules.feeder_microduct;
}

double fill_limit(const DuctRules& rules, CableClass c) {
  return c == CableClass::fibre_unit ? rules.unit_fill.fail : rules.microcable_fill.fail;
}

struct Choice {
  CableId cable;
  int largest = 0;  // fibres of the largest cable that fits
};

// The smallest cable with at least `fibres` that fits the bore: fewest fibres, then thinnest.
Choice smallest_cable(const FibreInput& input, int64_t fibres, MicroductId bore) {
  Choice best;
  if (!bore.valid()) return best;
  const Length inside = input.duct_catalogue.microducts[bore].id;
  for (CableId c : input.catalogue.cables.ids()) {
    const Cable& cable = input.catalogue.cables[c];
    if (area_fill(cable.od, inside) > fill_limit(input.duct_rules, cable.cable_class)) continue;
    best.largest = std::max(best.largest, cable.fibres);
    if (cable.fibres < fibres) continue;
    const auto size = [&](CableId id) {
      return std::tuple(input.catalogue.cables[id].fibres, input.catalogue.cables[id].od);
    };
    if (!best.cable.valid() || size(c) < size(best.cable)) best.cable = c;
  }
  return best;
}

int used_fibres(const FibreInput& input, const Fibre& fibre, const Link& link) {
  if (link.to.valid()) return fibre.stations[link.to].feed_fibres;
  if (!link.premises.valid() || !fibre.first_dwelling[link.premises].valid()) return 0;
  return input.basis.needs[link.premises].dwellings;
}

// Fibres the cable must have, spare included.
int64_t wanted_fibres(const FibreInput& input, const Link& link, int used) {
  if (!link.premises.valid()) return used + spare_of(used, input.rules.feeder_spare_share, 0);
  const int each = link.to.valid() ? 1 : std::max(1, input.rules.fibres_per_dwelling);
  return int64_t{used} * each + std::max(0, input.rules.spare_fibres_per_unit);
}

void choose_cable(const FibreInput& input, LinkId l, Fibre& fibre) {
  const Link& link = input.layout.links[l];
  LinkCable& chosen = fibre.cables[l];
  chosen.fibres_used = used_fibres(input, fibre, link);
  if (link.premises.valid()) {
    const CableId unit = input.basis.needs[link.premises].unit;
    if (unit.valid() && input.catalogue.cables[unit].fibres >= chosen.fibres_used) chosen.cable = unit;
    if (!unit.valid() && !link.to.valid()) return;  // the basis has said so
  }
  if (chosen.cable.valid()) return;
  const int64_t wanted = wanted_fibres(input, link, chosen.fibres_used);
  const Choice choice = smallest_cable(input, wanted, bore_of(input, l));
  chosen.cable = choice.cable;
  if (choice.cable.valid()) return;
  fibre.findings.push_back({.rule = Rule::no_cable_for_fibres,
                            .at = subject(l),
                            .actual = static_cast<double>(wanted),
                            .limit = static_cast<double>(choice.largest),
                            .mend = Mend::larger_microduct});
}

// On order it counts the whole drop, as its blow does, though less of it may be laid at build.
Length duct_length(const FibreInput& input, LinkId l) {
  Length sum;
  const PremisesId premises = input.layout.links[l].premises;
  const bool waits = premises.valid() && input.basis.needs[premises].reserved;
  if (l.value < input.ducts.paths.size() && !waits)
    for (SectionId s : input.ducts.paths[l]) sum += input.ducts.sections[s].length;
  if (sum > Length()) return sum;
  for (SpanId s : input.layout.routes[l]) sum += input.network.spans[s].length;
  return sum;
}

// What stays at the end of a link as tail or loop.
Length left_at(const FibreInput& input, StationId s, bool unit) {
  if (unit) return input.rules.unit_tail;
  switch (input.layout.stations[s].kind) {
    case StationKind::headend:
      return input.rules.cable_loop_at_headend;
    case StationKind::cabinet:
      return input.rules.cable_loop_at_cabinet;
    case StationKind::branch_point:
    case StationKind::building:
      break;
  }
  return input.rules.unit_tail;
}

void measure(const FibreInput& input, LinkId l, LinkCable& cable) {
  const Link& link = input.layout.links[l];
  const bool unit = link.premises.valid();
  cable.duct_length = duct_length(input, l);
  cable.length = scaled(cable.duct_length, 1 + input.rules.slack_share);
  cable.length += left_at(input, link.from, unit) + left_at(input, link.to, unit);
  if (unit) cable.length += input.demand.premises[link.premises].indoor;
  cable.length = rounded_to_millimetres(cable.length);
}

}  // namespace

void choose_cables(const FibreInput& input, Fibre& fibre) {
  fibre.cables.resize(input.layout.links.size());
  for (LinkId l : input.layout.links.ids()) {
    choose_cable(input, l, fibre);
    measure(input, l, fibre.cables[l]);
  }
}

}  // namespace plan
