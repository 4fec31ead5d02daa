#include "plan/plan.h"

#include <algorithm>

#include "plan/asks.h"

namespace plan {
namespace {

constexpr size_t most_rounds = 4;  // the first, and three of repair

// What a stage takes: the value, and whether it is the base's.
template <class T>
struct Input {
  const T& now;
  bool same;
};

// The base's result of a stage; null where there is none. A held one stands whatever the stage takes.
template <class T>
struct Former {
  const Slice<T>* result;
  bool held = false;
};

struct Flow {
  const Scenario& scenario;
  const Plan* base;
  Hold hold;
  const Run& run;
  Plan& plan;
  const Round* old = nullptr;  // the base's round beside plan.rounds.back()

  template <class T>
  Input<T> given(Slice<T> Scenario::*slice) const {
    return {*(scenario.*slice), base && scenario.*slice == base->scenario.*slice};
  }
  template <class T>
  Input<T> made(Slice<T> Plan::*result) const {
    return {*(plan.*result), base && plan.*result == base->*result};
  }
  template <class T>
  Input<T> made(Slice<T> Round::*result) const {
    const Slice<T>& now = plan.rounds.back().*result;
    return {*now, old && now == old->*result};
  }
  template <class T>
  Former<T> former(Slice<T> Plan::*result) const {
    return {base ? &(base->*result) : nullptr};
  }
  template <class T>
  Former<T> former(Slice<T> Round::*result) const {
    return {old ? &(old->*result) : nullptr};
  }
  bool holds(Hold at_least) const { return base && hold != Hold::nothing && hold >= at_least; }

  // Makes a stage's result from its inputs, or keeps the base's. What `make` is given is all that the
  // stage depends on.
  template <class T, class Make, class... Taken>
  Slice<T> stage(std::string_view name, Former<T> former, Make make, Input<Taken>... taken) {
    if (former.result && (former.held || (taken.same && ...))) {
      plan.stages.push_back({name, true, false});
      return *former.result;
    }
    Slice<T> fresh(make(taken.now...));
    const bool equal = former.result && fresh == *former.result;
    plan.stages.push_back({name, false, !equal});
    return equal ? *former.result : fresh;
  }
};

void network_and_basis(Flow& f) {
  f.plan.network = f.stage(
      "network", f.former(&Plan::network), [&](const auto&... in) { return make_network(in..., f.run); },
      f.given(&Scenario::demand), f.given(&Scenario::site));
  f.plan.basis = f.stage(
      "basis", f.former(&Plan::basis),
      [&](const Network& network, const auto&...) { return make_basis(f.scenario, network, f.run); },
      f.made(&Plan::network), f.given(&Scenario::demand), f.given(&Scenario::duct_catalogue),
      f.given(&Scenario::fibre_catalogue), f.given(&Scenario::layout_rules), f.given(&Scenario::duct_rules),
      f.given(&Scenario::fibre_rules), f.given(&Scenario::blow_rules), f.given(&Scenario::optic_rules),
      f.given(&Scenario::design_prices));
}

void place(Flow& f) {
  Round& round = f.plan.rounds.back();
  Former<Layout> layout = f.former(&Round::layout);
  layout.held = f.holds(Hold::layout);
  round.layout = f.stage(
      "layout", layout, [&](const auto&... in) { return make_layout(in..., f.run); }, f.made(&Plan::network),
      f.made(&Plan::basis), f.given(&Scenario::layout_rules),
      Input<Asks>{round.asks, f.old && round.asks == f.old->asks});
  Former<Ducts> ducts = f.former(&Round::ducts);
  ducts.held = f.holds(Hold::ducts);
  round.ducts = f.stage(
      "ducts", ducts, [&](const auto&... in) { return make_ducts(DuctInput{in...}, f.run); },
      f.made(&Plan::network), f.made(&Plan::basis), f.made(&Round::layout), f.given(&Scenario::demand),
      f.given(&Scenario::duct_catalogue), f.given(&Scenario::fibre_catalogue), f.given(&Scenario::duct_rules),
      f.given(&Scenario::layout_rules));
}

void light(Flow& f) {
  Round& round = f.plan.rounds.back();
  round.fibre = f.stage(
      "fibre", f.former(&Round::fibre),
      [&](const auto&... in) { return make_fibre(FibreInput{in...}, f.run); }, f.made(&Plan::network),
      f.made(&Plan::basis), f.made(&Round::layout), f.made(&Round::ducts), f.given(&Scenario::demand),
      f.given(&Scenario::duct_catalogue), f.given(&Scenario::fibre_catalogue),
      f.given(&Scenario::layout_rules), f.given(&Scenario::duct_rules), f.given(&Scenario::fibre_rules));
  round.blowing = f.stage(
      "blowing", f.former(&Round::blowing),
      [&](const auto&... in) { return make_blowing(BlowingInput{in...}, f.run); }, f.made(&Plan::network),
      f.made(&Round::layout), f.made(&Round::ducts), f.made(&Round::fibre),
      f.given(&Scenario::duct_catalogue), f.given(&Scenario::fibre_catalogue), f.given(&Scenario::duct_rules),
      f.given(&Scenario::blow_rules));
  round.optics = f.stage(
      "optics", f.former(&Round::optics),
      [&](const auto&... in) { return make_optics(OpticsInput{in...}, f.run); }, f.made(&Round::layout),
      f.made(&Round::fibre), f.given(&Scenario::demand), f.given(&Scenario::fibre_catalogue),
      f.given(&Scenario::fibre_rules), f.given(&Scenario::optic_rules));
}

void rounds(Flow& f) {
  std::vector<Round>& all = f.plan.rounds;
  Asks asks;
  while (all.size() < most_rounds) {
    f.old = f.base && all.size() < f.base->rounds.size() ? &f.base->rounds[all.size()] : nullptr;
    if (!f.old && f.holds(Hold::layout)) break;  // a held edit answers with the base's rounds only
    all.emplace_back().asks = asks;
    place(f);
    light(f);
    asks = next_asks(all.back(), *f.plan.network);
    if (asks == all.back().asks) break;
  }
  f.old = f.base ? &f.base->rounds.back() : nullptr;  // the base's plan
}

void count_and_accept(Flow& f) {
  f.plan.acceptance = f.stage(
      "acceptance", f.former(&Plan::acceptance),
      [&](const Blowing& blowing, const Optics& optics, const DuctCatalogue& ducts, const auto&... in) {
        return make_acceptance(OpticsInput{in...}, blowing, optics, ducts, f.run);
      },
      f.made(&Round::blowing), f.made(&Round::optics), f.given(&Scenario::duct_catalogue),
      f.made(&Round::layout), f.made(&Round::fibre), f.given(&Scenario::demand),
      f.given(&Scenario::fibre_catalogue), f.given(&Scenario::fibre_rules), f.given(&Scenario::optic_rules));
  Former<Takeoff> takeoff = f.former(&Plan::takeoff);
  takeoff.held = f.holds(Hold::quantities);
  f.plan.takeoff = f.stage(
      "takeoff", takeoff, [&](const auto&... in) { return make_takeoff(TakeoffInput{in...}, f.run); },
      f.made(&Plan::network), f.made(&Plan::basis), f.made(&Round::layout), f.made(&Round::ducts),
      f.made(&Round::fibre), f.given(&Scenario::demand), f.given(&Scenario::duct_catalogue),
      f.given(&Scenario::fibre_catalogue), f.given(&Scenario::duct_rules), f.given(&Scenario::layout_rules));
}

void works(Flow& f) {
  f.plan.schedule = f.stage(
      "schedule", f.former(&Plan::schedule),
      [&](const auto&... in) { return make_schedule(ScheduleInput{in...}, f.run); }, f.made(&Plan::network),
      f.made(&Round::layout), f.made(&Round::ducts), f.made(&Round::fibre), f.made(&Round::blowing),
      f.made(&Plan::takeoff), f.given(&Scenario::demand), f.given(&Scenario::stock),
      f.given(&Scenario::crews));
  f.plan.bill = f.stage(
      "bom", f.former(&Plan::bill), [&](const auto&... in) { return make_bill(BillInput{in...}, f.run); },
      f.made(&Plan::takeoff), f.made(&Plan::schedule), f.given(&Scenario::prices), f.given(&Scenario::stock));
  f.plan.orders = f.stage(
      "orders", f.former(&Plan::orders),
      [&](const auto&... in) { return make_orders(OrdersInput{in...}, f.run); }, f.made(&Plan::network),
      f.made(&Round::layout), f.made(&Round::ducts), f.made(&Round::fibre), f.made(&Round::blowing),
      f.made(&Round::optics), f.made(&Plan::takeoff), f.made(&Plan::schedule), f.made(&Plan::bill),
      f.given(&Scenario::demand), f.given(&Scenario::duct_catalogue), f.given(&Scenario::fibre_catalogue),
      f.given(&Scenario::crews));
}

void add(Findings& all, const Findings& more) {
  all.insert(all.end(), more.begin(), more.end());
}

}  // namespace

Plan make_plan(const Scenario& scenario, const Plan* base, Hold hold, const Run& run) {
  Plan plan;
  plan.scenario = scenario;
  if (base) hold = std::min(hold, most_held(base->scenario, scenario));
  Flow flow{scenario, base, hold, run, plan};
  network_and_basis(flow);
  rounds(flow);
  count_and_accept(flow);
  works(flow);
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
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& f) { return !rule_text(f.rule).note; });
}

bool same_results(const Plan& a, const Plan& b) {
  const auto same_round = [](const Round& x, const Round& y) {
    return x.asks == y.asks && x.layout == y.layout && x.ducts == y.ducts && x.fibre == y.fibre &&
           x.blowing == y.blowing && x.optics == y.optics;
  };
  return same_slices(a.scenario, b.scenario) && a.network == b.network && a.basis == b.basis &&
         std::equal(a.rounds.begin(), a.rounds.end(), b.rounds.begin(), b.rounds.end(), same_round) &&
         a.acceptance == b.acceptance && a.takeoff == b.takeoff && a.schedule == b.schedule &&
         a.bill == b.bill && a.orders == b.orders;
}

OpticsInput optics_input(const Plan& plan) {
  const Scenario& s = plan.scenario;
  return {plan.layout(), plan.fibre(), *s.demand, *s.fibre_catalogue, *s.fibre_rules, *s.optic_rules};
}

OrdersInput orders_input(const Plan& plan) {
  const Scenario& s = plan.scenario;
  return {*plan.network,     plan.layout(),      plan.ducts(),   plan.fibre(), plan.blowing(),
          plan.optics(),     *plan.takeoff,      *plan.schedule, *plan.bill,   *s.demand,
          *s.duct_catalogue, *s.fibre_catalogue, *s.crews};
}

}  // namespace plan
