// The whole flow: runs the stages, keeps what an edit does not touch, mends what can be mended.
//
//   Plan base = make_plan(scenario, nullptr, Hold::nothing, run);
//   Plan other = make_plan(edited_scenario, &base, Hold::nothing, run);   // re-runs only what changed
//
// A stage runs again only if a slice or an earlier result in its dependency list has changed; if its new
// result equals the old one, everything after it keeps its old result (early cut-off). The law, tested
// for every scenario and edit: make_plan(edit, &base) and make_plan(edit, nullptr) are the same plan.
// A held edit isolates its question: with Hold::layout the base's layout stands whatever the edit says,
// with Hold::ducts its ducts too, with Hold::quantities everything up to the take-off; but never more than
// scenario/scenario.h most_held(), as a held result speaks in ids.
//
// Repair: full existing ducts, crowded spans and refused blows become Asks; layout answers in at most three
// further rounds. What remains is a finding of the last round.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "acceptance/acceptance.h"
#include "basis/basis.h"
#include "blowing/blowing.h"
#include "bom/bom.h"
#include "ducts/ducts.h"
#include "fibre/fibre.h"
#include "layout/layout.h"
#include "network/network.h"
#include "optics/optics.h"
#include "orders/orders.h"
#include "scenario/scenario.h"
#include "schedule/schedule.h"
#include "takeoff/takeoff.h"

namespace plan {

// One answer of layout and what the physics said of it.
struct Round {
  Asks asks;
  Slice<Layout> layout;
  Slice<Ducts> ducts;
  Slice<Fibre> fibre;
  Slice<Blowing> blowing;
  Slice<Optics> optics;
};

struct StageRun {
  std::string_view stage;
  bool kept = false;    // taken from the base without running
  bool changed = true;  // its result differs from the base's
};

struct Plan {
  Scenario scenario;
  Slice<Network> network;
  Slice<Basis> basis;
  std::vector<Round> rounds;  // at least one; the last is the plan
  Slice<Acceptance> acceptance;
  Slice<Takeoff> takeoff;
  Slice<Schedule> schedule;
  Slice<Bill> bill;
  Slice<Orders> orders;
  std::vector<StageRun> stages;  // how this plan came about; not part of what is compared

  const Layout& layout() const { return *rounds.back().layout; }
  const Ducts& ducts() const { return *rounds.back().ducts; }
  const Fibre& fibre() const { return *rounds.back().fibre; }
  const Blowing& blowing() const { return *rounds.back().blowing; }
  const Optics& optics() const { return *rounds.back().optics; }
};
bool same_results(const Plan& a, const Plan& b);

// `base` may be null. Never throws for what a scenario can say.
Plan make_plan(const Scenario& scenario, const Plan* base, Hold hold, const Run& run);

// Every finding of every stage, in the order of the flow; notes (which never fail a plan) included.
Findings all_findings(const Plan& plan);
bool fails(const Findings& findings);

// What expanded_ledger and expanded_stop take.
OpticsInput optics_input(const Plan& plan);
OrdersInput orders_input(const Plan& plan);

}  // namespace plan
