// Private to report: the figures of a plan, counted once for the summary, its JSON and comparisons.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.h"

namespace plan {

struct Facts {
  size_t findings = 0, notes = 0;
  int premises = 0, premises_lit = 0, premises_reserved = 0, premises_unserved = 0;
  int dwellings_lit = 0, dwellings_reserved = 0, dwellings_passed = 0;
  Length assumed;  // of the opened length: resting on assumptions
  int entries_assumed = 0;
  Length opened, duct, microduct, unit, feeder_cable, drop_trench;
  int cabinets = 0, branch_splitters = 0, runs = 0, joints = 0, chambers = 0;
  int pons_day_one = 0, pons_ultimate = 0, splitter_ports = 0;
  int blows = 0, blows_refused = 0;
  Length longest_blow, longest_duct_path;
  Force least_push_reserve;  // available minus needed, the worst feasible blow
  Loss worst_margin_down, worst_margin_up, worst_overload_margin;
  bool has_light = false;
  double spare_share = 0, port_fill = 0, joints_per_path = 0;
  Money total, civil, material, labour;
  Money trench_cost, trench_bound, forced_cost;
  Work programme, programme_bound;
  int crew_days = 0;
  Date finish;
};
Facts facts_of(const Plan& plan);

// A figure against the range in which a sound plan usually lies (warns, never fails).
struct Plausible {
  std::string_view name, unit;
  double value = 0, low = 0, high = 0;
  int decimals = 1;
  std::string_view source;
  bool known = true;
  bool inside() const { return value >= low && value <= high; }
};
std::vector<Plausible> plausibility(const Facts& f);

// 100 (cost - bound) / bound, of what can be decided: forced costs left out of both. < 0 = no bound.
double gap_percent(Money cost, Money bound, Money forced);

}  // namespace plan
