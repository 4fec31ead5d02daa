#include "layout/layout.h"

#include <doctest/doctest.h>

#include "held.h"

using namespace plan;

namespace {

// A street of 400 m along x with the headend at its west end, and premises every `gap` metres from 20 on.
Drawn street(int premises, double gap) {
  Drawn d;
  d.street("Long Lane", {{0, 0}, {400, 0}});
  d.headend("exchange", {0, 0});
  for (int i = 0; i < premises; ++i) d.premises(std::to_string(i + 1), {20 + i * gap, 8});
  return d;
}

PremisesId of(const Estate& e, std::string_view name) {
  return premises_named(e.demand, name);
}

}  // namespace

TEST_CASE("a headend with room in reach of all serves all: no cabinet") {
  Estate e = estate_of(street(10, 30).demand());
  e.basis.headends[HeadendId(0u)].microduct_entries = 10;
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(count(l, StationKind::cabinet) == 0);
  CHECK(l.stations[StationId(0u)].premises_served == 10);
  CHECK(l.stations[StationId(0u)].stages == 1);  // the cabinet's stage
  CHECK(l.findings.empty());
  CHECK(l.cabinets_at_least == 0);
}

TEST_CASE("one entry short: one cabinet at the median") {
  Estate e = estate_of(street(10, 30).demand());
  e.basis.headends[HeadendId(0u)].microduct_entries = 9;
  e.basis.feeder_metre = {45'000};
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  REQUIRE(count(l, StationKind::cabinet) == 1);
  CHECK(l.stations[StationId(1u)].premises_served == 10);
  // Premises at 20, 50, ... 290; a metre of feeder costs three microduct metres. Going east pays while the
  // premises ahead outnumber those behind by more than three: to 110, with four behind and six ahead.
  CHECK(where(e, l, StationId(1u)) == Point{110'000, 0});
}

TEST_CASE("areas are full from the far end, and the headend takes what is near it") {
  Estate e = estate_of(street(12, 30).demand());
  e.basis.cabinet = {CabinetTypeId(0u), 5, 100};
  e.basis.headends[HeadendId(0u)].microduct_entries = 4;
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(count(l, StationKind::cabinet) == 2);
  CHECK(l.cabinets_at_least == 2);
  for (int i = 1; i <= 12; ++i) {
    CAPTURE(i);
    const StationId s = server(l, of(e, std::to_string(i)));
    CHECK((l.stations[s].kind == StationKind::headend) == (i <= 2));
    if (i > 2) CHECK(s == server(l, of(e, i <= 7 ? "3" : "8")));
  }
}

TEST_CASE("the longest duct path divides a street that one cabinet could hold") {
  Estate e = estate_of(street(12, 30).demand());
  e.basis.longest_drop = metres(100);  // 92 m along the street on both sides
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(count(l, StationKind::cabinet) == 2);  // 330 m of premises, 184 m a cabinet
  CHECK(count(l, Rule::drop_duct_too_long) == 0);
}

TEST_CASE("dwellings limit a cabinet as premises do, a building above it stands alone with a finding") {
  Drawn d = street(6, 30);
  d.premises("tower", {250, -8}).dwellings = 30;
  Estate e = estate_of(d.demand());
  e.basis.cabinet = {CabinetTypeId(0u), 20, 10};
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(count(l, StationKind::cabinet) == 2);
  REQUIRE(count(l, Rule::cabinet_fibres_exceeded) == 1);
  const StationId tower = server(l, of(e, "tower"));
  CHECK(l.stations[tower].premises_served == 1);
  for (const Finding& f : l.findings) {
    CHECK(f.at == subject(tower));
    CHECK(f.actual == 30);
    CHECK(f.limit == 10);
  }
}

TEST_CASE("two headends: every premises on the nearer tree, the dear street between them stays shut") {
  Drawn d;
  d.street("Lane", {{0, 0}, {400, 0}});
  d.headend("west", {0, 0}).microduct_entries = 5;
  d.headend("east", {400, 0}).microduct_entries = 5;
  d.premises("w", {50, 8});
  d.premises("e", {350, 8});
  const Estate e = estate_of(d.demand());
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(l.stations.size() == 2);
  CHECK(l.stations[server(l, of(e, "w"))].headend == headend_named(e.demand, "west"));
  CHECK(l.stations[server(l, of(e, "e"))].headend == headend_named(e.demand, "east"));
  // 50 m of street each and two drops of 8 m: 2 x (50 x 100 + 8 x 40) = 10,640.00
  CHECK(l.trench_cost == Money{1'064'000});
  CHECK(l.trench_bound == l.trench_cost);
}

TEST_CASE("an existing duct is used instead of a trench, unless it is asked to be left") {
  Drawn d;
  d.street("near", {{0, 0}, {0, 20}});
  d.street("far", {{300, 0}, {300, 20}});
  d.street("between", {{0, 0}, {300, 0}});
  d.duct("old", {{0, 0}, {150, -40}, {300, 0}});
  d.headend("exchange", {0, 20}).microduct_entries = 5;
  d.premises("1", {308, 10});
  Estate e = estate_of(d.demand());
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  SpanId duct;
  for (SpanId s : e.network.spans.ids())
    if (e.network.spans[s].kind == SpanKind::existing_duct) duct = s;
  REQUIRE(duct.valid());
  CHECK(l.used[duct]);
  // 20 m and 10 m of street, 8 m of drop.
  CHECK(l.trench_cost == Money{332'000});
  e.asks.not_through = {duct};
  const Layout other = e.plan();
  CHECK(broken(e, other).empty());
  CHECK_FALSE(other.used[duct]);
  CHECK(other.trench_cost == Money{3'332'000});
}

TEST_CASE("an ask shortens one duct path; areas elsewhere stay as they are") {
  Drawn d;
  d.street("west", {{-300, 0}, {0, 0}});
  d.street("east", {{0, 0}, {300, 0}});
  d.headend("exchange", {0, 5});
  for (int i = 0; i < 8; ++i) {
    d.premises("w" + std::to_string(i), {-40.0 - 30 * i, 8});
    d.premises("e" + std::to_string(i), {40.0 + 30 * i, 8});
  }
  Estate e = estate_of(d.demand());
  e.basis.cabinet = {CabinetTypeId(0u), 8, 20};
  const Layout before = e.plan();
  REQUIRE(count(before, StationKind::cabinet) == 2);
  e.asks.longest.resize(e.demand.premises.size());
  e.asks.longest[of(e, "e7")] = metres(40);
  const Layout after = e.plan();
  CHECK(broken(e, after).empty());
  CHECK(count(after, Rule::drop_duct_too_long) == 0);
  const StationId old_west = server(before, of(e, "w0")), new_west = server(after, of(e, "w0"));
  CHECK(where(e, before, old_west) == where(e, after, new_west));
  for (int i = 0; i < 8; ++i) CHECK(server(after, of(e, "w" + std::to_string(i))) == new_west);
  CHECK_FALSE(where(e, after, server(after, of(e, "e7"))) == where(e, before, server(before, of(e, "e7"))));
}

TEST_CASE("cabinets at listed sites only: the link is dug, a forbidden site is none") {
  Drawn d = street(10, 30);
  d.site("yes", {200, -12});
  d.site("no", {110, -3}).forbidden = true;
  Estate e = estate_of(d.demand());
  e.basis.sites_only = true;
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  REQUIRE(count(l, StationKind::cabinet) == 1);
  CHECK(l.stations[StationId(1u)].site == site_named(e.demand, "yes"));
  CHECK(where(e, l, StationId(1u)) == Point{200'000, -12'000});
  bool link_dug = false;
  for (SpanId s : e.network.spans.ids())
    link_dug |=
        l.used[s] && e.network.spans[s].kind == SpanKind::link && e.network.spans[s].length == metres(12);
  CHECK(link_dug);

  SUBCASE("too far from the site: served from it, with a finding a premises") {
    e.basis.longest_drop = metres(150);
    const Layout far = e.plan();
    CHECK(broken(e, far).empty());
    // From 200 m: 12 + |200 - x| + 8 > 150 for x = 20 and 50.
    CHECK(count(far, Rule::drop_duct_too_long) == 2);
  }
  SUBCASE("two cabinets at one site are said") {
    e.basis.cabinet.premises = 6;
    const Layout two = e.plan();
    CHECK(broken(e, two).empty());
    CHECK(count(two, StationKind::cabinet) == 2);
    CHECK(count(two, Rule::no_allowed_site) == 1);
  }
  SUBCASE("no site at all: nobody is served in silence") {
    e.basis.site_allowed = Table<SiteId, uint8_t>(e.demand.sites.size(), 0);
    const Layout none = e.plan();
    CHECK(broken(e, none).empty());
    CHECK(count(none, Rule::premises_unserved) == 10);
    e.basis.headends[HeadendId(0u)].microduct_entries = 4;
    const Layout some = e.plan();
    CHECK(broken(e, some).empty());
    CHECK(some.stations[StationId(0u)].premises_served == 4);
    CHECK(count(some, Rule::premises_unserved) == 6);
  }
}

TEST_CASE("a branch-point stage: groups along the street, two links to a home, every stage in order") {
  Estate e = estate_of(street(12, 30).demand());
  e.rules.split = {{SplitterPlace::cabinet, 4}, {SplitterPlace::branch_point, 8}};
  e.rules.branch_point_premises = 4;
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(count(l, StationKind::cabinet) == 1);
  REQUIRE(count(l, StationKind::branch_point) == 3);
  for (int i = 1; i <= 12; ++i) {
    const StationId s = server(l, of(e, std::to_string(i)));
    CHECK(l.stations[s].kind == StationKind::branch_point);
    CHECK(l.stations[s].first_stage == 1);
    CHECK(s == server(l, of(e, std::to_string((i - 1) / 4 * 4 + 1))));
  }
  const Station& cabinet = l.stations[StationId(1u)];
  CHECK(cabinet.stages == 1);
  CHECK(cabinet.premises_served == 0);
}

TEST_CASE("a building stage: buildings hold their own splitter, single homes are split at the cabinet") {
  Drawn d = street(4, 30);
  d.premises("flats", {200, -8}).dwellings = 6;
  Estate e = estate_of(d.demand());
  e.rules.split = {{SplitterPlace::headend, 2}, {SplitterPlace::cabinet, 4}, {SplitterPlace::building, 4}};
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  REQUIRE(count(l, StationKind::building) == 1);
  const Link& link = l.links[l.drops[of(e, "flats")]];
  REQUIRE(link.to.valid());
  CHECK(link.premises == of(e, "flats"));
  const Station& building = l.stations[link.to];
  CHECK(building.first_stage == 2);
  CHECK(building.stages == 1);
  CHECK(building.premises == of(e, "flats"));
  CHECK(building.dwellings_served == 6);
  const Station& cabinet = l.stations[link.from];
  CHECK(cabinet.kind == StationKind::cabinet);
  CHECK(cabinet.first_stage == 1);
  CHECK(cabinet.stages == 2);  // its own, and the last for the single homes
  CHECK(cabinet.premises_served == 4);
}

TEST_CASE("a cabinet keeps off the crossing where a place beside it is in reach") {
  Drawn d;
  d.street("w", {{-100, 0}, {0, 0}});
  d.street("e", {{0, 0}, {100, 0}});
  d.street("n", {{0, 0}, {0, 100}});
  d.street("s", {{0, 0}, {0, -100}});
  d.headend("exchange", {-104, 0});
  int i = 0;
  for (Metres m : {Metres{-30, 8}, {30, 8}, {-60, 8}, {60, 8}}) d.premises(std::to_string(++i), m);
  for (Metres m : {Metres{8, 30}, {8, -30}, {8, 60}, {8, -60}}) d.premises(std::to_string(++i), m);
  const Estate e = estate_of(d.demand());
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  REQUIRE(count(l, StationKind::cabinet) == 1);
  CHECK(where(e, l, StationId(1u)) == Point{-30'000, 0});
}

TEST_CASE("a premises behind a forbidden street is not planned, the others are") {
  Drawn d = street(3, 30);
  d.street("shut", {{400, 0}, {500, 0}}).forbidden = true;
  d.street("beyond", {{500, 0}, {600, 0}});
  d.premises("far", {550, 8});
  const Estate e = estate_of(d.demand());
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK_FALSE(l.drops[of(e, "far")].valid());
  CHECK(l.findings.empty());  // said by the network already
}

TEST_CASE("nothing to plan: no premises, or no headend on a street") {
  Drawn d;
  d.street("Lane", {{0, 0}, {100, 0}});
  d.headend("exchange", {0, 5000});
  d.premises("1", {50, 8});
  const Estate e = estate_of(d.demand());
  const Layout l = e.plan();
  CHECK(broken(e, l).empty());
  CHECK(l.links.size() == 0);
  CHECK(l.trench_cost == Money{});
  Drawn empty;
  empty.street("Lane", {{0, 0}, {100, 0}});
  empty.headend("exchange", {0, 5});
  const Estate none = estate_of(empty.demand());
  CHECK(broken(none, none.plan()).empty());
}

// reference: trench shared, ducts not (derived), case J1: r-a 10, r-b 10, a-b 1; trench 1 a metre, duct k a
// metre and premises; the best joint plan costs min(11 + 21 k, 20 + 20 k).
TEST_CASE("trench against duct metres: best while trench dominates, close where ducts do") {
  for (int64_t k : {1, 9, 10}) {
    CAPTURE(k);
    Estate e;
    const NodeId r = e.network.at.add({0, 0}), a = e.network.at.add({10'000, 0}),
                 b = e.network.at.add({10'000, 1'000});
    for (NodeKind kind : {NodeKind::headend, NodeKind::premises, NodeKind::premises})
      e.network.kinds.add(kind);
    e.network.headend_nodes.add(r);
    for (const auto& [from, to, metre] : {std::tuple{r, a, 10}, {r, b, 10}, {a, b, 1}}) {
      e.network.spans.add({from, to, metres(metre), {}, {}, SpanKind::street, false});
      e.basis.open_cost.add({metre * 100});
      e.basis.lay_cost.add({metre * 100 * k});
      e.basis.usable.add(1);
    }
    for (NodeId n : {a, b}) {
      e.network.premises_nodes.add(n);
      e.basis.needs.add({true, false, 1, 1, {}, {}});
    }
    e.basis.headends.add({0, 2, 0});
    e.basis.longest_drop = metres(100);
    const Layout l = e.plan();
    CHECK(broken(e, l).empty());
    Money cost = l.trench_cost;
    for (LinkId i : l.links.ids())
      for (SpanId s : l.routes[i]) cost += e.basis.lay_cost[s];
    const int64_t best = 100 * std::min(11 + 21 * k, 20 + 20 * k);
    if (k < 10) CHECK(cost.cents == best);
    CHECK(cost.cents >= best);
    CHECK(cost.cents * 100 <= best * 101);
    CHECK(l.trench_bound == Money{1100});  // the tree of 11 m
  }
}
