#include "blowing/blowing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/parallel.h"
#include "blowing/profile.h"

namespace plan {
namespace {

BlowUnit unit_of(const Cable& cable) {
  return {cable.od, cable.mass, cable.stiffness};
}

Pressure supply_of(const BlowingInput& in, const BlowProfile& p) {
  if (!p.weakest.valid()) return in.rules.supply;
  const Pressure rated = in.duct_catalogue.microducts[p.weakest].rated;
  return rated < in.rules.supply ? rated : in.rules.supply;
}

BlowConditions conditions_of(const BlowingInput& in, const BlowProfile& p) {
  const Cable& cable = in.catalogue.cables[p.cable];
  BlowConditions c;
  const bool unit = cable.cable_class == CableClass::fibre_unit;
  c.friction = (unit ? in.rules.unit_friction : in.rules.cable_friction) / in.rules.length_share;
  c.tortuosity = in.rules.tortuosity;
  c.supply = supply_of(in, p);
  const Force end_effect = newtons((in_pascals(c.supply) - ambient_pascals) * flow_area(cable.od, {}));
  c.push_limit = std::min(cable.push_limit, in.rules.net_push_limit + end_effect);
  c.air = in.rules.air;
  return c;
}

// Feasible before infeasible, then the larger reserve; the first where both are the same.
bool better(const BlowScreen& other, const BlowScreen& first) {
  if (other.feasible != first.feasible) return other.feasible;
  return other.available - other.needed > first.available - first.needed;
}

Work running_time(const BlowingInput& in, Length length) {
  const double speed = in_metres_per_minute(in.rules.speed);
  return speed > 0 ? minutes(std::llround(std::ceil(in_metres(length) / speed))) : Work();
}

Blow blow_of(const BlowingInput& in, const BlowProfile& p) {
  Blow blow;
  if (!p.complete) return blow;
  blow.bore = p.bore;
  blow.length = p.length;
  blow.bends = bends_in(p);
  blow.supply = supply_of(in, p);
  blow.running = running_time(in, p.length);
  blow.feasible = p.length == Length();
  if (blow.feasible) return blow;
  const BlowUnit unit = unit_of(in.catalogue.cables[p.cable]);
  const BlowBore bore{in.duct_catalogue.microducts[p.bore].id};
  const BlowConditions conditions = conditions_of(in, p);
  BlowScreen chosen = screen_blow(unit, bore, conditions, p.route);
  const BlowScreen back = screen_blow(unit, bore, conditions, reversed(p.route));
  blow.from_station = !better(back, chosen);
  if (!blow.from_station) chosen = back;
  blow.feasible = chosen.feasible;
  blow.needed = chosen.needed_pressure;
  blow.push_needed = chosen.needed;
  blow.push_available = chosen.available;
  blow.push_only = rounded_to_millimetres(chosen.push_only);
  blow.limiting = rounded_to_millimetres(chosen.limiting);
  blow.free_air_litres_per_minute = chosen.free_air * 60000;
  return blow;
}

// For each link the first one with the same profile. The signature sorts, the profile decides.
Table<LinkId, LinkId> leaders(const BlowingInput& in, const Run& run) {
  const size_t n = in.layout.links.size();
  Table<LinkId, uint64_t> signatures(n);
  for_each_chunk(run, n, 256, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i) signatures[LinkId(i)] = signature(blow_profile(in, LinkId(i)));
  });
  std::vector<LinkId> order;
  for (LinkId l : in.layout.links.ids()) order.push_back(l);
  std::stable_sort(order.begin(), order.end(),
                   [&](LinkId a, LinkId b) { return signatures[a] < signatures[b]; });
  Table<LinkId, LinkId> leader(n);
  for (size_t i = 0; i < n; ++i) {
    const bool same = i > 0 && signatures[order[i]] == signatures[order[i - 1]];
    leader[order[i]] = same ? leader[order[i - 1]] : order[i];
  }
  for_each_chunk(run, n, 256, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i) {
      const LinkId l(i);
      if (leader[l] != l && !(blow_profile(in, l) == blow_profile(in, leader[l]))) leader[l] = l;
    }
  });
  return leader;
}

void tell(const BlowingInput& in, Blowing& blowing) {
  std::vector<uint8_t> told(in.duct_catalogue.microducts.size(), 0);
  for (LinkId l : blowing.blows.ids()) {
    const Blow& blow = blowing.blows[l];
    if (blow.feasible && !(blow.supply < in.rules.supply)) continue;
    const BlowProfile p = blow_profile(in, l);
    if (!p.complete || p.length == Length()) continue;
    if (blow.supply < in.rules.supply && !std::exchange(told[p.weakest.value], uint8_t{1}))
      blowing.findings.push_back({.rule = Rule::supply_over_rating,
                                  .at = subject(l),
                                  .actual = in_bar_gauge(in.rules.supply),
                                  .limit = in_bar_gauge(blow.supply),
                                  .mend = Mend::less_pressure,
                                  .mend_amount = in_bar_gauge(blow.supply)});
    if (!blow.feasible)
      blowing.findings.push_back({.rule = Rule::blow_too_hard,
                                  .at = subject(l),
                                  .actual = in_newtons(blow.push_needed),
                                  .limit = in_newtons(blow.push_available),
                                  .mend = Mend::intermediate_blow_point,
                                  .mend_amount = in_metres(blow.limiting)});
  }
}

}  // namespace

Blowing make_blowing(const BlowingInput& input, const Run& run) {
  run.tell("blowing", 0);
  const Table<LinkId, LinkId> leader = leaders(input, run);
  run.tell("blowing", 0.1);
  Blowing blowing;
  blowing.blows.resize(leader.size());
  for_each_chunk(run, leader.size(), 64, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i)
      if (leader[LinkId(i)] == LinkId(i))
        blowing.blows[LinkId(i)] = blow_of(input, blow_profile(input, LinkId(i)));
  });
  for (LinkId l : leader.ids()) blowing.blows[l] = blowing.blows[leader[l]];
  tell(input, blowing);
  run.tell("blowing", 1);
  return blowing;
}

}  // namespace plan
