#include "report/facts.h"

#include <algorithm>
#include <utility>

#include "report/walk_out.h"

namespace plan {
namespace {

void count_premises(const Plan& plan, Facts& f) {
  for (const PremisesId p : plan.scenario.demand->premises.ids()) {
    const PremisesNeed& need = plan.basis->needs[p];
    ++f.premises;
    if (!need.planned || !plan.layout().drops[p].valid()) {
      if (plan.scenario.demand->premises[p].connect != Connect::never) ++f.premises_unserved;
      continue;
    }
    f.dwellings_passed += need.dwellings;
    need.reserved ? ++f.premises_reserved : ++f.premises_lit;
  }
  for (const Dwelling& d : plan.fibre().dwellings) {
    if (d.state == LightState::lit) ++f.dwellings_lit;
    if (d.state == LightState::reserved) ++f.dwellings_reserved;
  }
}

void count_ducts(const Plan& plan, Facts& f) {
  const Ducts& ducts = plan.ducts();
  int64_t spare = 0, used = 0, joined = 0;
  for (const SpanId s : plan.network->spans.ids()) {
    f.opened += plan.takeoff->opened[s];
    if (plan.network->spans[s].kind == SpanKind::drop) f.drop_trench += plan.takeoff->opened[s];
  }
  for (const auto& [name, street] : walk_out(plan)) {
    f.assumed += street.assumed;
    f.entries_assumed += street.entries_assumed;
  }
  for (const BundleRun& r : ducts.runs) f.duct += r.length;
  for (const Section& s : ducts.sections) {
    f.microduct += s.length;
    if (s.state == SectionState::spare) spare += to_whole_millimetres(s.length);
    if (s.state == SectionState::used || s.state == SectionState::reserved)
      used += to_whole_millimetres(s.length);
  }
  for (const Joint& j : ducts.joints) joined += j.b.valid() ? 1 : 0;
  f.runs = static_cast<int>(ducts.runs.size());
  f.joints = static_cast<int>(joined);
  for (const BranchPoint& b : ducts.branch_points) f.chambers += b.chamber.valid() ? 1 : 0;
  if (used + spare > 0) f.spare_share = static_cast<double>(spare) / static_cast<double>(used + spare);
  const size_t paths = plan.layout().links.size();
  if (paths > 0) f.joints_per_path = static_cast<double>(joined) / static_cast<double>(paths);
}

void count_blows(const Plan& plan, Facts& f) {
  bool first = true;
  for (const LinkId l : plan.blowing().blows.ids()) {
    const Blow& blow = plan.blowing().blows[l];
    const LinkCable& cable = plan.fibre().cables[l];
    (plan.layout().links[l].premises.valid() ? f.unit : f.feeder_cable) += cable.length;
    f.longest_duct_path = std::max(f.longest_duct_path, cable.duct_length);
    ++f.blows;
    if (!blow.feasible) {
      ++f.blows_refused;
      continue;
    }
    f.longest_blow = std::max(f.longest_blow, blow.length);
    const Force reserve = blow.push_available - blow.push_needed;
    if (first || reserve < f.least_push_reserve) f.least_push_reserve = reserve;
    first = false;
  }
}

void count_light(const Plan& plan, Facts& f) {
  int64_t ports = 0, filled = 0;
  for (const Station& s : plan.layout().stations) {
    f.cabinets += s.kind == StationKind::cabinet ? 1 : 0;
    f.branch_splitters += s.kind == StationKind::branch_point ? 1 : 0;
  }
  for (const Pon& p : plan.fibre().pons) {
    ++f.pons_ultimate;
    f.pons_day_one += p.day_one > 0 ? 1 : 0;
  }
  for (const Splitter& s : plan.fibre().splitters)
    if (s.type.valid() && s.day_one) ports += plan.scenario.fibre_catalogue->splitters[s.type].ports;
  for (const Splitter& s : plan.fibre().splitters) filled += s.upstream.valid() && s.day_one ? 1 : 0;
  const double take_up = plan.scenario.fibre_rules->take_up;
  double dwellings = 0;
  for (const Dwelling& d : plan.fibre().dwellings) {
    const double own = plan.scenario.demand->premises[d.premises].take_up;
    dwellings += own >= 0 ? own : take_up;
  }
  f.splitter_ports = static_cast<int>(ports);
  if (ports > 0) f.port_fill = (static_cast<double>(filled) + dwellings) / static_cast<double>(ports);
  for (const Ledger& l : plan.optics().ledgers) {
    const bool first = !std::exchange(f.has_light, true);
    f.worst_margin_down = first ? l.down_margin : std::min(f.worst_margin_down, l.down_margin);
    f.worst_margin_up = first ? l.up_margin : std::min(f.worst_margin_up, l.up_margin);
    f.worst_overload_margin =
        first ? l.overload_margin : std::min(f.worst_overload_margin, l.overload_margin);
  }
}

}  // namespace

Facts facts_of(const Plan& plan) {
  Facts f;
  for (const Finding& finding : all_findings(plan)) rule_text(finding.rule).note ? ++f.notes : ++f.findings;
  count_premises(plan, f);
  count_ducts(plan, f);
  count_blows(plan, f);
  count_light(plan, f);
  f.total = plan.bill->total;
  f.civil = plan.bill->civil;
  f.material = plan.bill->material;
  f.labour = plan.bill->labour;
  f.trench_cost = plan.layout().trench_cost;
  f.trench_bound = plan.layout().trench_bound;
  f.forced_cost = plan.layout().forced_cost;
  f.programme = plan.schedule->length;
  f.programme_bound = plan.schedule->bound;
  f.crew_days = static_cast<int>(plan.schedule->crew_days.size());
  f.finish = plan.schedule->finish;
  return f;
}

double gap_percent(Money cost, Money bound, Money forced) {
  const int64_t decided_bound = bound.cents - forced.cents;
  if (bound.cents <= 0) return -1;
  if (cost.cents == bound.cents) return 0;
  if (decided_bound <= 0) return -1;
  return 100.0 * static_cast<double>(cost.cents - bound.cents) / static_cast<double>(decided_bound);
}

}  // namespace plan
