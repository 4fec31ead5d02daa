#include "plan/plan.h"

#include <algorithm>

#include "plan/asks.h"

namespace plan {
namespace {

constexpr size_t most_rounds = 4;  // the first, and three of repair

// Decides for one stage at a time whether the base's result stands.
class Keeper {
 public:
  explicit Keeper(std::vector<StageRun>& log) : log_(log) {}

  // `base` null: nothing to keep. `same`: every input is the base's.
  template <class T, class Make>
  Slice<T> stage(std::string_view name, const Slice<T>* base, bool same, Make&& make) {
    if (base && same) {
      log_.push_back({name, true, false});
      return *base;
    }
    Slice<T> fresh(make());
    const bool equal = base && fresh == *base;
    log_.push_back({name, false, !equal});
    return equal ? *base : fresh;
  }

 private:
  std::vector<StageRun>& log_;
};

// The base's part of a comparison: `of(&Plan::network)` is null without a base.
template <class Owner, class T>
const Slice<T>* part(const Owner* base, Slice<T> Owner::*member) {
  return base ? &(base->*member) : nullptr;
}

struct Flow {
  const Scenario& scenario;
  const Plan* base;
  Hold hold;
  const Run& run;
  Keeper keeper;

  template <class T>
  bool same(Slice<T> Scenario::*slice) const {
    return base && scenario.*slice == base->scenario.*slice;
  }
  template <class T>
  bool same(const Slice<T>& now, Slice<T> Plan::*slice) const {
    return base && now.identical(base->*slice);
  }
  bool holds(Hold at_least) const { return base && hold != Hold::nothing && hold >= at_least; }
};

void network_and_basis(Flow& f, Plan& plan) {
  const Scenario& s = f.scenario;
  plan.network = f.keeper.stage("network", part(f.base, &Plan::network), f.same(&Scenario::demand) && f.same(&Scenario::site),
                                [&] { return make_network(*s.demand, *s.site, f.run); });
  const bool same = f.same(plan.network, &Plan::network) && f.same(&Scenario::demand) && f.same(&Scenario::duct_catalogue) &&
                    f.same(&Scenario::fibre_catalogue) && f.same(&Scenario::layout_rules) && f.same(&Scenario::duct_rules) &&
                    f.same(&Scenario::fibre_rules) && f.same(&Scenario::blow_rules) && f.same(&Scenario::optic_rules) &&
                    f.same(&Scenario::design_prices);
  plan.basis = f.keeper.stage("basis", part(f.base, &Plan::basis), same, [&] { return make_basis(s, *plan.network, f.run); });
}

void lay_out(Flow& f, const Plan& plan, Round& round, const Round* old) {
  const bool held = f.holds(Hold::layout);
  const bool same = old && f.same(plan.network, &Plan::network) && f.same(plan.basis, &Plan::basis) &&
                    f.same(&Scenario::layout_rules) && round.asks == old->asks;
  round.layout = f.keeper.stage("layout", part(old, &Round::layout), same || (held && old), [&] {
    return make_layout(*plan.network, *plan.basis, *f.scenario.layout_rules, round.asks, f.run);
  });
}

void duct(Flow& f, const Plan& plan, Round& round, const Round* old) {
  const Scenario& s = f.scenario;
  const bool same = old && f.same(plan.network, &Plan::network) && f.same(plan.basis, &Plan::basis) &&
                    round.layout.identical(old->layout) && f.same(&Scenario::demand) && f.same(&Scenario::duct_catalogue) &&
                    f.same(&Scenario::fibre_catalogue) && f.same(&Scenario::duct_rules) && f.same(&Scenario::layout_rules);
  round.ducts = f.keeper.stage("ducts", part(old, &Round::ducts), same || (old && f.holds(Hold::ducts)), [&] {
    return make_ducts({*plan.network, *plan.basis, *round.layout, *s.demand, *s.duct_catalogue, *s.fibre_catalogue,
                       *s.duct_rules, *s.layout_rules},
                      f.run);
  });
}

void light(Flow& f, const Plan& plan, Round& round, const Round* old) {
  const Scenario& s = f.scenario;
  const bool placed = old && f.same(plan.network, &Plan::network) && round.layout.identical(old->layout) &&
                      round.ducts.identical(old->ducts);
  const bool parts = f.same(&Scenario::duct_catalogue) && f.same(&Scenario::fibre_catalogue) && f.same(&Scenario::duct_rules);
  round.fibre = f.keeper.stage("fibre", part(old, &Round::fibre),
                               placed && parts && f.same(plan.basis, &Plan::basis) && f.same(&Scenario::demand) &&
                                   f.same(&Scenario::layout_rules) && f.same(&Scenario::fibre_rules),
                               [&] {
                                 return make_fibre({*plan.network, *plan.basis, *round.layout, *round.ducts, *s.demand,
                                                    *s.duct_catalogue, *s.fibre_catalogue, *s.layout_rules, *s.duct_rules,
                                                    *s.fibre_rules},
                                                   f.run);
                               });
  const bool lit = placed && parts && round.fibre.identical(old->fibre);
  round.blowing = f.keeper.stage("blowing", part(old, &Round::blowing), lit && f.same(&Scenario::blow_rules), [&] {
    return make_blowing({*plan.network, *round.layout, *round.ducts, *round.fibre, *s.duct_catalogue, *s.fibre_catalogue,
                         *s.duct_rules, *s.blow_rules},
                        f.run);
  });
  round.optics = f.keeper.stage("optics", part(old, &Round::optics),
                                lit && f.same(&Scenario::demand) && f.same(&Scenario::fibre_rules) &&
                                    f.same(&Scenario::optic_rules),
                                [&] {
                                  return make_optics({*round.layout, *round.fibre, *s.demand, *s.fibre_catalogue,
                                                      *s.fibre_rules, *s.optic_rules},
                                                     f.run);
                                });
}

void rounds(Flow& f, Plan& plan) {
  Asks asks;
  while (plan.rounds.size() < most_rounds) {
    const size_t k = plan.rounds.size();
    const Round* old = f.base && k < f.base->rounds.size() ? &f.base->rounds[k] : nullptr;
    if (!old && f.holds(Hold::layout)) break;  // a held edit answers with the base's rounds only
    Round round;
    round.asks = asks;
    lay_out(f, plan, round, old);
    duct(f, plan, round, old);
    light(f, plan, round, old);
    plan.rounds.push_back(std::move(round));
    asks = next_asks(plan.rounds.back(), *plan.network);
    if (asks == plan.rounds.back().asks) break;
  }
}

void works(Flow& f, Plan& plan, const Round* old) {
  const Scenario& s = f.scenario;
  const Round& now = plan.rounds.back();
  const bool placed = old && f.same(plan.network, &Plan::network) && now.layout.identical(old->layout) &&
                      now.ducts.identical(old->ducts) && now.fibre.identical(old->fibre) && f.same(&Scenario::demand);
  const bool blown = placed && now.blowing.identical(old->blowing);
  const bool lit = placed && now.optics.identical(old->optics);
  plan.acceptance = f.keeper.stage(
      "acceptance", part(f.base, &Plan::acceptance),
      blown && lit && f.same(&Scenario::duct_catalogue) && f.same(&Scenario::fibre_catalogue) &&
          f.same(&Scenario::fibre_rules) && f.same(&Scenario::optic_rules),
      [&] { return make_acceptance(optics_input(plan), plan.blowing(), plan.optics(), *s.duct_catalogue, f.run); });
  const bool counted = placed && f.same(plan.basis, &Plan::basis) && f.same(&Scenario::duct_catalogue) &&
                       f.same(&Scenario::fibre_catalogue) && f.same(&Scenario::duct_rules) && f.same(&Scenario::layout_rules);
  plan.takeoff = f.keeper.stage("takeoff", part(f.base, &Plan::takeoff), counted || f.holds(Hold::quantities), [&] {
    return make_takeoff({*plan.network, *plan.basis, plan.layout(), plan.ducts(), plan.fibre(), *s.demand,
                         *s.duct_catalogue, *s.fibre_catalogue, *s.duct_rules, *s.layout_rules},
                        f.run);
  });
  const bool scheduled = blown && f.same(plan.takeoff, &Plan::takeoff) && f.same(&Scenario::stock) && f.same(&Scenario::crews);
  plan.schedule = f.keeper.stage("schedule", part(f.base, &Plan::schedule), scheduled, [&] {
    return make_schedule({*plan.network, plan.layout(), plan.ducts(), plan.fibre(), plan.blowing(), *plan.takeoff, *s.demand,
                          *s.stock, *s.crews},
                         f.run);
  });
  plan.bill = f.keeper.stage("bom", part(f.base, &Plan::bill),
                             f.same(plan.takeoff, &Plan::takeoff) && f.same(plan.schedule, &Plan::schedule) &&
                                 f.same(&Scenario::prices) && f.same(&Scenario::stock),
                             [&] { return make_bill({*plan.takeoff, *plan.schedule, *s.prices, *s.stock}, f.run); });
  plan.orders = f.keeper.stage("orders", part(f.base, &Plan::orders),
                               blown && lit && f.same(plan.takeoff, &Plan::takeoff) && f.same(plan.schedule, &Plan::schedule) &&
                                   f.same(plan.bill, &Plan::bill) && f.same(&Scenario::duct_catalogue) &&
                                   f.same(&Scenario::fibre_catalogue) && f.same(&Scenario::crews),
                               [&] { return make_orders(orders_input(plan), f.run); });
}

void add(Findings& all, const Findings& more) { all.insert(all.end(), more.begin(), more.end()); }

}  // namespace

Plan make_plan(const Scenario& scenario, const Plan* base, Hold hold, const Run& run) {
  Plan plan;
  plan.scenario = scenario;
  Flow flow{scenario, base, hold, run, Keeper(plan.stages)};
  network_and_basis(flow, plan);
  rounds(flow, plan);
  works(flow, plan, base ? &base->rounds.back() : nullptr);
  return plan;
}

Findings all_findings(const Plan& plan) {
  Findings all;
  add(all, plan.network->findings);
  add(all, plan.basis->findings);
  add(all, plan.layout().findings);
  add(all, plan.ducts().findings);
  add(all, plan.fibre().findings);
  add(all, plan.blowing().findings);
  add(all, plan.optics().findings);
  add(all, plan.acceptance->findings);
  add(all, plan.takeoff->findings);
  add(all, plan.schedule->findings);
  add(all, plan.bill->findings);
  add(all, plan.orders->findings);
  return all;
}

bool fails(const Findings& findings) {
  return std::any_of(findings.begin(), findings.end(), [](const Finding& f) { return !rule_text(f.rule).note; });
}

bool same_results(const Plan& a, const Plan& b) {
  const auto same_round = [](const Round& x, const Round& y) {
    return x.asks == y.asks && x.layout == y.layout && x.ducts == y.ducts && x.fibre == y.fibre && x.blowing == y.blowing &&
           x.optics == y.optics;
  };
  return same_slices(a.scenario, b.scenario) && a.network == b.network && a.basis == b.basis &&
         std::equal(a.rounds.begin(), a.rounds.end(), b.rounds.begin(), b.rounds.end(), same_round) &&
         a.acceptance == b.acceptance && a.takeoff == b.takeoff && a.schedule == b.schedule && a.bill == b.bill &&
         a.orders == b.orders;
}

OpticsInput optics_input(const Plan& plan) {
  const Scenario& s = plan.scenario;
  return {plan.layout(), plan.fibre(), *s.demand, *s.fibre_catalogue, *s.fibre_rules, *s.optic_rules};
}

OrdersInput orders_input(const Plan& plan) {
  const Scenario& s = plan.scenario;
  return {*plan.network, plan.layout(),  plan.ducts(), plan.fibre(),       plan.blowing(),
          plan.optics(), *plan.takeoff,  *plan.schedule, *plan.bill,       *s.demand,
          *s.duct_catalogue, *s.fibre_catalogue, *s.crews};
}

}  // namespace plan
