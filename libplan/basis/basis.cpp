#include "basis/basis.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "basis/cables.h"
#include "basis/longest.h"
#include "basis/split.h"
#include "basis/weights.h"
#include "model/price.h"

namespace plan {
namespace {

// Stands for "as many as needed", far above what any estate holds and safe to add up.
constexpr int no_limit = 1'000'000'000;

int limited(double value) {
  return static_cast<int>(std::floor(std::clamp(value, 0.0, static_cast<double>(no_limit))));
}

// Fibres in the unit: with a splitter in the building one for each of its splitters, else the dwellings' own.
int64_t fibres_of(const Scenario& s, const Premises& p) {
  const auto& stages = s.layout_rules->split;
  const FibreRules& rules = *s.fibre_rules;
  const int64_t spare = std::max(0, rules.spare_fibres_per_unit);
  if (splits_at(stages, SplitterPlace::building) && p.dwellings > 1) {
    const int64_t ports = split_at(stages, SplitterPlace::building);
    return (p.dwellings + ports - 1) / ports + spare;
  }
  return int64_t{p.dwellings} * std::max(1, rules.fibres_per_dwelling) + spare;
}

class Needs {
 public:
  Needs(const Scenario& s, const Network& n, Basis& b)
      : s_(s), n_(n), b_(b), bore_(drop_bore(*s.duct_catalogue, *s.duct_rules)) {}

  void all() {
    b_.needs.reserve(s_.demand->premises.size());
    for (PremisesId p : s_.demand->premises.ids()) b_.needs.add(need(p));
  }
  // Of the planned premises; of a single dwelling where nothing is planned.
  CableId commonest_unit() {
    std::map<CableId, int> counts;
    for (const PremisesNeed& need : b_.needs)
      if (need.planned && need.unit.valid()) ++counts[need.unit];
    if (counts.empty()) return choice(fibres_of(s_, Premises{})).cable;
    return std::max_element(counts.begin(), counts.end(),
                            [](auto& a, auto& b) { return a.second < b.second; })
        ->first;
  }

 private:
  PremisesNeed need(PremisesId id) {
    const Premises& p = s_.demand->premises[id];
    PremisesNeed need;
    need.dwellings = p.dwellings;
    need.planned = p.connect != Connect::never && n_.reached[id];
    if (!need.planned) return need;
    need.reserved = p.connect == Connect::on_order;
    need.microduct = s_.duct_rules->drop_microduct;
    const int64_t fibres = fibres_of(s_, p);
    need.fibres = limited(static_cast<double>(fibres));
    const CableChoice chosen = choice(fibres);
    need.unit = chosen.cable;
    if (!need.unit.valid())
      b_.findings.push_back({.rule = Rule::no_unit_for_fibres,
                             .at = subject(id),
                             .actual = static_cast<double>(fibres),
                             .limit = static_cast<double>(chosen.largest),
                             .mend = Mend::larger_microduct});
    return need;
  }
  const CableChoice& choice(int64_t fibres) {
    const auto [known, fresh] = choices_.try_emplace(fibres);
    if (fresh) known->second = unit_for(*s_.fibre_catalogue, *s_.duct_rules, *s_.fibre_rules, fibres, bore_);
    return known->second;
  }

  const Scenario& s_;
  const Network& n_;
  Basis& b_;
  Length bore_;
  std::map<int64_t, CableChoice> choices_;
};

// Dwellings that one fibre out of, or into, a cabinet lights: the outputs of the stages beyond, the last
// one to the rules' port fill.
struct Fanout {
  double beyond = 1, through = 1;
};
Fanout fanout(const Scenario& s) {
  const auto& stages = s.layout_rules->split;
  const int64_t beyond =
      split_at(stages, SplitterPlace::branch_point) * split_at(stages, SplitterPlace::building);
  const int64_t through = beyond * split_at(stages, SplitterPlace::cabinet);
  const auto filled = [&](int64_t outputs) {
    return outputs > 1 ? std::max(1.0, static_cast<double>(outputs) * s.fibre_rules->port_fill) : 1.0;
  };
  return {filled(beyond), filled(through)};
}

// Dwellings for which a cabinet has fibres and ports, before fill.
double cabinet_dwellings(const Scenario& s, const CabinetType& type) {
  const auto& stages = s.layout_rules->split;
  const Fanout lit = fanout(s);
  const double each = lit.beyond > 1 ? 1 : std::max(1, s.fibre_rules->fibres_per_dwelling);
  const double drops = type.drop_fibres / each * lit.beyond;
  const double feeds = type.feeder_fibres * lit.through;
  if (!splits_at(stages, SplitterPlace::cabinet)) return std::min(drops, feeds);
  const auto splitters = static_cast<double>(splitters_for_one(stages, SplitterPlace::cabinet));
  return std::min({drops, feeds, std::floor(type.splitter_slots / splitters) * lit.through});
}

CabinetLimits cabinet_limits(const Scenario& s) {
  CabinetLimits limits{s.layout_rules->cabinet, 0, 0};
  if (!limits.type.valid()) return limits;
  const CabinetType& type = s.duct_catalogue->cabinets[limits.type];
  const double fill = s.layout_rules->cabinet_fill;
  limits.premises = limited(type.microduct_entries * fill + 1e-9);
  limits.dwellings = limited(cabinet_dwellings(s, type) * fill + 1e-9);
  return limits;
}

// Fibres of a full cabinet's feed, with spare.
int64_t feeder_fibres(const Scenario& s, const CabinetLimits& cabinet) {
  const auto used = std::max<int64_t>(1, std::llround(std::ceil(cabinet.dwellings / fanout(s).through)));
  return used + spare_of(used, s.fibre_rules->feeder_spare_share, 0);
}

CableId usual_feeder(const Scenario& s, const CabinetLimits& cabinet) {
  const MicroductId m = s.duct_rules->feeder_microduct;
  if (!m.valid()) return {};
  const Length bore = s.duct_catalogue->microducts[m].id;
  return cable_for(*s.fibre_catalogue, *s.duct_rules, feeder_fibres(s, cabinet), bore).cable;
}

Length shorter(Length blow, Length rule, Length estate) {
  const Length held = rule > Length() ? std::min(blow, rule) : blow;
  return std::min(held, estate);
}

// Glass that the longest path could need: slack, tails and loops, and the way inside.
Length longest_glass(const Scenario& s, Length estate) {
  const FibreRules& rules = *s.fibre_rules;
  Length inside;
  for (const Premises& p : s.demand->premises) inside = std::max(inside, p.indoor + p.riser);
  return scaled(estate, 1 + rules.slack_share) + inside +
         2 * (rules.unit_tail + rules.cable_loop_at_cabinet + rules.cable_loop_at_headend);
}

void find_longest(const Scenario& s, const Network& n, const CommonCables& cables, Basis& b) {
  const Length estate = longest_path(n);
  const DuctRules& ducts = *s.duct_rules;
  const auto& microducts = s.duct_catalogue->microducts;
  MicroductId drop = ducts.drop_microduct;
  if (drop.valid() && ducts.distribution_microduct.valid() &&
      microducts[ducts.distribution_microduct].id < microducts[drop].id)
    drop = ducts.distribution_microduct;
  b.longest_drop = shorter(longest_blow_of(s, cables.unit, drop), s.layout_rules->longest_drop_duct, estate);
  b.longest_feeder = shorter(longest_blow_of(s, cables.feeder, ducts.feeder_microduct),
                             s.layout_rules->longest_feeder_duct, estate);
  const LongestLight light = longest_light_of(s);
  const Length glass = longest_glass(s, estate);
  b.longest_light = light.split_fits ? std::min(light.glass, glass) : Length();
  if (!light.split_fits)
    b.findings.push_back({.rule = Rule::split_exceeds_class,
                          .actual = in_decibels(light.split),
                          .limit = in_decibels(light.allowed),
                          .mend = Mend::lower_split});
}

void find_usable(const Demand& demand, const Network& n, Basis& b) {
  std::vector<uint8_t> reached(n.components, 0);
  for (NodeId h : n.headend_nodes) reached[n.component[h]] = 1;
  for (const Span& span : n.spans) {
    const bool full = span.kind == SpanKind::existing_duct && demand.routes[span.route].free_share <= 0;
    b.usable.add(!span.forbidden && !full && reached[n.component[span.from]]);
  }
  for (SiteId s : demand.sites.ids())
    b.site_allowed.add(!demand.sites[s].forbidden && reached[n.component[n.site_nodes[s]]]);
}

}  // namespace

Basis make_basis(const Scenario& scenario, const Network& network, const Run& run) {
  run.tell("basis", 0);
  Basis b;
  Needs needs(scenario, network, b);
  needs.all();
  for (const Headend& h : scenario.demand->headends)
    b.headends.add({h.olt_ports > 0 ? h.olt_ports : no_limit, h.microduct_entries,
                    h.feeder_fibres > 0 ? h.feeder_fibres : no_limit});
  b.cabinet = cabinet_limits(scenario);
  b.sites_only = scenario.layout_rules->cabinets_at_sites_only;
  find_usable(*scenario.demand, network, b);
  const CommonCables cables{needs.commonest_unit(), usual_feeder(scenario, b.cabinet)};
  weigh(scenario, network, cables, b);
  find_longest(scenario, network, cables, b);
  run.tell("basis", 1);
  return b;
}

}  // namespace plan
