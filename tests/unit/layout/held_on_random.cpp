#include <doctest/doctest.h>

#include <random>

#include "held.h"

using namespace plan;

namespace {

using Random = std::mt19937;

int below(Random& random, int n) {
  return static_cast<int>(random() % static_cast<uint32_t>(n));
}

// Streets of a lattice, each there with some chance, premises on both sides, one or two headends, some
// sites, an existing duct, a forbidden street.
Demand lattice(Random& random) {
  Drawn d;
  const int columns = 2 + below(random, 4), rows = 2 + below(random, 4), each = 1 + below(random, 7);
  const int kept = 5 + below(random, 6);
  int number = 0;
  const auto side = [&](Metres a, Metres b) {
    if (below(random, 10) >= kept) return;
    const std::string name = std::to_string(++number);
    d.street(name, {a, b}).forbidden = below(random, 25) == 0;
    for (int i = 0; i < each; ++i) {
      const double share = (1 + below(random, 98)) / 100.0, off = below(random, 2) ? 9 : -7;
      Premises& p = d.premises(name + " " + std::to_string(i),
                               a.x == b.x ? Metres{a.x + off, a.y + (b.y - a.y) * share}
                                          : Metres{a.x + (b.x - a.x) * share, a.y + off});
      if (below(random, 6) == 0) p.dwellings = 2 + below(random, 20);
      if (below(random, 15) == 0) p.connect = Connect::never;
    }
  };
  for (int y = 0; y < rows; ++y)
    for (int x = 0; x < columns; ++x) {
      const Metres here{x * 90.0, y * 90.0};
      if (x + 1 < columns) side(here, {here.x + 90, here.y});
      if (y + 1 < rows) side(here, {here.x, here.y + 90});
    }
  d.street("spine", {{0, -90}, {0, 0}});
  d.premises("first", {8, -50});
  if (below(random, 2)) d.duct("old", {{0, -90}, {90, 0}});
  d.headend("exchange", {-6, -80}).microduct_entries = below(random, 3) * 10;
  if (below(random, 2))
    d.headend("second", {(columns - 1) * 90.0 + 4, 40}).microduct_entries = below(random, 20);
  for (int i = below(random, 8); i-- > 0;) {
    Site& s = d.site("site " + std::to_string(i),
                     {below(random, columns * 90) + 0.5, below(random, rows * 90) + 0.5});
    s.forbidden = below(random, 4) == 0;
  }
  return d.demand();
}

void random_rules(Random& random, Estate& e) {
  e.basis.cabinet.premises = 1 + below(random, 40);
  e.basis.cabinet.dwellings = e.basis.cabinet.premises + below(random, 30);
  e.basis.longest_drop = metres(40 + below(random, 400));
  e.basis.longest_feeder = metres(100 + below(random, 700));
  e.basis.sites_only = below(random, 4) == 0;
  using P = SplitterPlace;
  const std::vector<std::vector<SplitStage>> splits{
      {{P::cabinet, 32}},
      {{P::headend, 4}, {P::cabinet, 8}},
      {{P::cabinet, 4}, {P::branch_point, 8}},
      {{P::headend, 2}, {P::cabinet, 2}, {P::branch_point, 4}, {P::building, 4}},
      {{P::cabinet, 8}, {P::building, 4}},
      {{P::headend, 32}},
      {}};
  e.rules.split = splits[static_cast<size_t>(below(random, static_cast<int>(splits.size())))];
  e.rules.branch_point_premises = 1 + below(random, 8);
  if (below(random, 3) == 0) {
    e.asks.longest.resize(e.demand.premises.size());
    for (Length& l : e.asks.longest)
      if (below(random, 10) == 0) l = metres(30 + below(random, 100));
  }
  for (SpanId s : e.network.spans.ids())
    if (e.network.spans[s].kind == SpanKind::existing_duct && below(random, 2))
      e.asks.not_through.push_back(s);
  if (below(random, 3) == 0)
    for (SpanId s : e.network.spans.ids())
      for (int times = below(random, 40); times < 2; ++times) e.asks.crowded.push_back(s);
}

}  // namespace

TEST_CASE("every promise holds on 400 random estates") {
  size_t cabinets = 0, points = 0, buildings = 0, direct = 0;
  for (uint32_t seed = 1; seed <= 400; ++seed) {
    Random random(seed);
    Estate e = estate_of(lattice(random));
    random_rules(random, e);
    const Layout l = e.plan();
    CAPTURE(seed);
    const std::vector<std::string> faults = broken(e, l);
    CHECK_MESSAGE(faults.empty(), (faults.empty() ? "" : faults.front()));
    CHECK(l == e.plan());
    cabinets += count(l, StationKind::cabinet);
    points += count(l, StationKind::branch_point);
    buildings += count(l, StationKind::building);
    for (const Station& s : l.stations)
      if (s.kind == StationKind::headend) direct += static_cast<size_t>(s.premises_served);
  }
  // The estates are of every sort: none of the branches above went untried.
  CHECK(cabinets > 400);
  CHECK(points > 400);
  CHECK(buildings > 100);
  CHECK(direct > 200);
}

TEST_CASE("areas without an ask stay as they are, on 200 random estates") {
  size_t kept = 0, changed = 0;
  for (uint32_t seed = 1; seed <= 200; ++seed) {
    Random random(seed);
    Estate e = estate_of(lattice(random));
    random_rules(random, e);
    e.asks.longest = {};
    const Layout before = e.plan();
    e.asks.longest.resize(e.demand.premises.size());
    for (Length& l : e.asks.longest)
      if (below(random, 20) == 0) l = metres(20 + below(random, 60));
    const Layout after = e.plan();
    CAPTURE(seed);
    // The station that a premises hangs on in the end: its cabinet or headend, and how far that is.
    const auto hub = [&](const Layout& l, PremisesId p) {
      StationId s = server(l, p);
      if (l.stations[s].kind == StationKind::branch_point) s = l.stations[s].upstream;
      return s;
    };
    std::set<StationId> asked;
    for (PremisesId p : e.demand.premises.ids())
      if (before.drops[p].valid() && e.asks.longest[p] > Length{}) asked.insert(hub(before, p));
    for (PremisesId p : e.demand.premises.ids()) {
      if (!before.drops[p].valid()) continue;
      const StationId was = hub(before, p);
      const bool same = before.stations[was].node == after.stations[hub(after, p)].node;
      if (!asked.count(was)) CHECK(same);
      ++(same ? kept : changed);
    }
  }
  CHECK(kept > 1000);
  CHECK(changed > 200);
}

TEST_CASE("the checks above catch what is broken") {
  Random random(3);
  Estate e = estate_of(lattice(random));
  e.basis.cabinet = {CabinetTypeId(0u), 12, 40};
  const Layout good = e.plan();
  REQUIRE(broken(e, good).empty());
  REQUIRE(count(good, StationKind::cabinet) > 1);
  const auto breaks = [&](auto&& spoil) {
    Layout l = good;
    spoil(l);
    return !broken(e, l).empty();
  };
  CHECK(breaks([](Layout& l) { l.links[LinkId(0u)].from = StationId(1u); }));
  CHECK(breaks([](Layout& l) { l.used[SpanId(0u)] ^= 1; }));
  CHECK(breaks([](Layout& l) { l.trench_cost.cents += 1; }));
  CHECK(breaks([](Layout& l) { l.trench_bound.cents = l.trench_cost.cents + 1; }));
  CHECK(breaks([](Layout& l) { l.drops[PremisesId(0u)] = {}; }));
  CHECK(breaks([](Layout& l) { l.stations[StationId(1u)].stages = 0; }));
  CHECK(breaks([](Layout& l) { ++l.stations[StationId(1u)].premises_served; }));
  CHECK(breaks([](Layout& l) {
    l.findings.push_back({.rule = Rule::drop_duct_too_long, .at = subject(PremisesId(0u))});
  }));
  e.basis.cabinet.premises = 5;
  CHECK_FALSE(broken(e, good).empty());
}
