// Blows read from drawn duct paths, against the blow screen called directly.
#include <doctest/doctest.h>

#include <cmath>

#include "blowing/blowing.h"
#include "blowing/profile.h"
#include "unit/ducts/drawn_plan.h"

namespace plan {
namespace {

// Base figures of the trade for a 1.0 mm unit in 3.5 mm: friction 0.20, 10 bar, 0.5 N net push.
struct Blown {
  DrawnPlan d;
  BlowRules rules;
  FibreCatalogue cables;
  Fibre fibre;
  Ducts ducts;
  Blown() {
    rules.tortuosity = 0.01;
    rules.supply = bar_gauge(10);
    rules.net_push_limit = newtons(0.5);
    rules.air = celsius(20);
    rules.speed = metres_per_minute(30);
  }
  BlowingInput input() {
    ducts = make_ducts(d.input(), {});
    fibre.cables = Table<LinkId, LinkCable>(d.layout.links.size());
    for (LinkCable& c : fibre.cables) c.cable = CableId(0u);
    return {d.network, d.layout, ducts, fibre, d.catalogue, d.cables, d.rules, rules};
  }
  BlowUnit unit() const {
    const Cable& c = d.cables.cables[CableId(0u)];
    return {c.od, c.mass, c.stiffness};
  }
  // The conditions that the stage should ask the screen with.
  BlowConditions conditions() const {
    BlowConditions c;
    c.friction = rules.unit_friction / rules.length_share;
    c.tortuosity = rules.tortuosity;
    c.supply = rules.supply;
    const double gauge = in_bar_gauge(rules.supply) * 1e5, od = 1.0e-3;
    c.push_limit = newtons(0.5 + gauge * 3.14159265358979 / 4 * od * od);
    return c;
  }
};

// A straight street of this many metres with its only house in line behind it, 10 m off.
LinkId straight(Blown& b, double length) {
  const NodeId from = b.d.node(0, 0), to = b.d.node(length - 10, 0);
  b.d.span(from, to);
  return b.d.serve(b.d.station(from), b.d.premises(to, length, 0));
}

void check_same(const Blow& blow, const BlowScreen& screen) {
  CHECK(blow.feasible == screen.feasible);
  CHECK(in_newtons(blow.push_needed) == doctest::Approx(in_newtons(screen.needed)).epsilon(1e-9));
  CHECK(in_newtons(blow.push_available) == doctest::Approx(in_newtons(screen.available)).epsilon(1e-9));
  CHECK(in_bar_gauge(blow.needed) == doctest::Approx(in_bar_gauge(screen.needed_pressure)));
  CHECK(blow.push_only == rounded_to_millimetres(screen.push_only));
  CHECK(blow.free_air_litres_per_minute == doctest::Approx(screen.free_air * 60000));
}

TEST_CASE("a straight street is the screen of its length, with the turn-out bend before the door") {
  Blown b;
  const LinkId l = straight(b, 400);
  const Blowing blowing = make_blowing(b.input(), {});
  const std::vector<RouteElement> route{{metres(390), 0, degrees(30), metres(0.3)}, {metres(10)}};
  const BlowScreen out = screen_blow(b.unit(), {millimetres(3.5)}, b.conditions(), route);
  const BlowScreen back = screen_blow(b.unit(), {millimetres(3.5)}, b.conditions(), reversed(route));
  const Blow& blow = blowing.blows[l];
  const bool out_is_better =
      in_newtons(out.available - out.needed) >= in_newtons(back.available - back.needed);
  CHECK(blow.from_station == out_is_better);
  check_same(blow, out_is_better ? out : back);
  CHECK(blow.feasible);
  CHECK(blow.length == metres(400));
  CHECK(blow.bends == 1);
  CHECK(blow.bore == b.d.rules.drop_microduct);
  CHECK(in_newtons(blow.push_available) == doctest::Approx(0.5));  // the rule is net of the end effect
  CHECK(blow.supply == bar_gauge(10));
  CHECK(blow.running == minutes(14));  // 400 m at 30 m/min, rounded up
  CHECK(blowing.findings.empty());
}

TEST_CASE("a climb between the heights of two nodes is in the route, uphill from the station") {
  Blown b;
  const LinkId l = straight(b, 400);
  b.d.network.heights = Table<NodeId, Length>(b.d.network.at.size(), metres(100));
  for (const NodeId n : b.d.network.at.ids())
    if (b.d.network.at[n].x > 0) b.d.network.heights[n] = metres(139);
  const Blowing blowing = make_blowing(b.input(), {});
  const double sine = 39 / std::hypot(39.0, 390.0);
  const std::vector<RouteElement> route{{metres(390), sine, degrees(30), metres(0.3)}, {metres(10)}};
  const BlowScreen out = screen_blow(b.unit(), {millimetres(3.5)}, b.conditions(), route);
  const BlowScreen back = screen_blow(b.unit(), {millimetres(3.5)}, b.conditions(), reversed(route));
  check_same(blowing.blows[l], blowing.blows[l].from_station ? out : back);
  CHECK(out.needed_pressure > back.needed_pressure);
}

TEST_CASE("the product's own push limit holds below the rule") {
  Blown b;
  const LinkId l = straight(b, 300);
  b.d.cables.cables[CableId(0u)].push_limit = newtons(1.0);
  const Blowing blowing = make_blowing(b.input(), {});
  // End effect of 1.0 mm at 10 bar: 1e6 Pa x pi/4 mm2 = 0.7854 N (derived).
  CHECK(in_newtons(blowing.blows[l].push_available) == doctest::Approx(1.0 - 0.785398).epsilon(1e-5));
}

TEST_CASE("a share of the length is planned as more friction") {
  Blown b;
  const LinkId l = straight(b, 500);
  b.rules.length_share = 0.8;
  const Blowing blowing = make_blowing(b.input(), {});
  const std::vector<RouteElement> route{{metres(490), 0, degrees(30), metres(0.3)}, {metres(10)}};
  BlowConditions c = b.conditions();
  CHECK(c.friction == doctest::Approx(0.25));
  const BlowScreen out = screen_blow(b.unit(), {millimetres(3.5)}, c, route);
  const BlowScreen back = screen_blow(b.unit(), {millimetres(3.5)}, c, reversed(route));
  check_same(blowing.blows[l], blowing.blows[l].from_station ? out : back);
}

TEST_CASE("a blow that is too long is a finding with both forces") {
  Blown b;
  for (Bundle& bundle : b.d.catalogue.bundles) bundle.drum = metres(5000);
  const LinkId l = straight(b, 2500);
  const Blowing blowing = make_blowing(b.input(), {});
  CHECK_FALSE(blowing.blows[l].feasible);
  REQUIRE(blowing.findings.size() == 1);
  const Finding& f = blowing.findings[0];
  CHECK(f.rule == Rule::blow_too_hard);
  CHECK(f.at == subject(l));
  CHECK(f.actual > f.limit);
  CHECK(f.limit == doctest::Approx(0.5));
  CHECK(f.mend == Mend::intermediate_blow_point);
}

TEST_CASE("the supply stays below the weakest microduct's rating") {
  Blown b;
  const LinkId l = straight(b, 200);
  b.d.catalogue.microducts[b.d.rules.drop_microduct].rated = bar_gauge(6);
  const Blowing blowing = make_blowing(b.input(), {});
  CHECK(blowing.blows[l].supply == bar_gauge(6));
  REQUIRE(blowing.findings.size() == 1);
  CHECK(blowing.findings[0].rule == Rule::supply_over_rating);
  CHECK(blowing.findings[0].actual == doctest::Approx(10));
  CHECK(blowing.findings[0].limit == doctest::Approx(6));
}

// A street of straight legs and a zigzag of 90 degrees near one end.
LinkId zigzag(Blown& b, int near_station, int near_house, double leg) {
  double x = 0, y = 0;
  NodeId before = b.d.node(0, 0);
  const StationId station = b.d.station(before);
  const auto go = [&](double dx, double dy) {
    x += dx;
    y += dy;
    const NodeId next = b.d.node(x, y);
    b.d.span(before, next);
    before = next;
  };
  const auto bends = [&](int n) {
    for (int i = 0; i < n; ++i) i % 2 == 0 ? go(0, 5) : go(5, 0);
  };
  bends(near_station);
  go(leg, 0);
  bends(near_house);
  b.d.rules.corner_radius = b.d.rules.turn_out_radius = metres(0.05);
  return b.d.serve(station, b.d.premises(before, x + 5, y));
}

// Blow from the straight end towards the bends: makers' training manual, and derived in the reference values.
TEST_CASE("the launch point is the end far from the bends") {
  Blown towards_house, towards_station;
  const LinkId a = zigzag(towards_house, 0, 16, 300);
  const LinkId c = zigzag(towards_station, 16, 0, 300);
  CHECK(make_blowing(towards_house.input(), {}).blows[a].from_station);
  CHECK_FALSE(make_blowing(towards_station.input(), {}).blows[c].from_station);
}

TEST_CASE("a symmetric route is the same both ways and starts at the station") {
  Blown b;
  const NodeId from = b.d.node(0, 0), mid = b.d.node(100, 0), to = b.d.node(100, 100);
  const SpanId one = b.d.span(from, mid), two = b.d.span(mid, to);
  const StationId head = b.d.station(from), far = b.d.station(to);
  const LinkId l = b.d.add_link({head, far, {}}, {one, two});
  b.d.rules.feeder_microduct = b.d.rules.drop_microduct;
  const BlowingInput in = b.input();
  const BlowProfile p = blow_profile(in, l);
  CHECK(reversed(p.route) == p.route);
  const Blow blow = make_blowing(in, {}).blows[l];
  CHECK(blow.from_station);
  CHECK(blow.feasible);
  CHECK(blow.bends == 1);
}

TEST_CASE("more corners never help") {
  double before = 0;
  for (int corners = 0; corners <= 24; corners += 4) {
    Blown b;
    const LinkId l = zigzag(b, corners / 2, corners - corners / 2, 400 - 5 * corners);
    const Blow blow = make_blowing(b.input(), {}).blows[l];
    const double reserve = in_newtons(blow.push_available) - in_newtons(blow.push_needed);
    if (corners > 0) CHECK(reserve <= before + 1e-9);
    before = reserve;
  }
}

TEST_CASE("on order: the whole drop is screened, laid or not") {
  Blown b;
  const NodeId from = b.d.node(0, 0), to = b.d.node(100, 0);
  b.d.span(from, to);
  const StationId station = b.d.station(from);
  std::vector<LinkId> links;
  for (DropLaid laid : {DropLaid::to_door, DropLaid::to_boundary, DropLaid::none})
    links.push_back(b.d.serve(station, b.d.on_order(to, 100, 40, laid, metres(5))));
  const Blowing blowing = make_blowing(b.input(), {});
  for (LinkId l : links) {
    CHECK(blowing.blows[l].feasible);
    CHECK(blowing.blows[l] == blowing.blows[links[0]]);
    CHECK(blowing.blows[l].length == metres(140));
    CHECK(blowing.blows[l].bends == 1);
  }
}

TEST_CASE("the narrowest bore on the way counts") {
  Blown b;
  const MicroductId wide = b.d.microduct("10/8 mm wide", 10, 8);
  for (int ways : {1, 2, 4}) b.d.bundle(ways, wide, true);
  b.d.rules.distribution_microduct = wide;
  const LinkId l = straight(b, 200);
  CHECK(make_blowing(b.input(), {}).blows[l].bore == b.d.rules.drop_microduct);
}

TEST_CASE("an in-line cut is no bend, a corner in a span's shape is one") {
  Blown b;
  const NodeId from = b.d.node(0, 0), mid = b.d.node(60, 0), to = b.d.node(120, 40);
  b.d.span(from, mid);
  b.d.span(mid, to, SpanKind::street, {{120000, 0}});
  for (Bundle& bundle : b.d.catalogue.bundles) bundle.drum = metres(100);
  const LinkId l = b.d.serve(b.d.station(from), b.d.premises(to, 120, 50));
  const BlowingInput in = b.input();
  REQUIRE(b.ducts.paths[l].size() == 3);
  const BlowProfile p = blow_profile(in, l);
  const std::vector<RouteElement> expected{
      {metres(120), 0, turn({0, 0}, {120000, 0}, {120000, 40000}), metres(2)},
      {metres(40), 0, degrees(30), metres(0.3)},
      {metres(10)}};
  CHECK(p.route == expected);
}

TEST_CASE("a link without cable or duct path is not proven and not blamed here") {
  Blown b;
  straight(b, 100);
  BlowingInput in = b.input();
  b.fibre.cables[LinkId(0u)].cable = {};
  const Blowing blowing = make_blowing(in, {});
  CHECK(blowing.blows[LinkId(0u)] == Blow());
  CHECK(blowing.findings.empty());
}

TEST_CASE("any number of threads gives the same blows") {
  Blown b;
  const NodeId from = b.d.node(0, 0);
  const StationId station = b.d.station(from);
  NodeId before = from;
  for (int i = 1; i <= 150; ++i) {
    const NodeId next = b.d.node(6.0 * i, i % 7);
    b.d.span(before, next);
    b.d.serve(station, b.d.premises(next, 6.0 * i, i % 2 == 0 ? 12 : -9));
    before = next;
  }
  const BlowingInput in = b.input();
  CHECK(make_blowing(in, {1, {}}) == make_blowing(in, {3, {}}));
}

}  // namespace
}  // namespace plan
