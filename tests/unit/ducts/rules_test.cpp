// Fill and bends against the figures of the trade.
#include <doctest/doctest.h>

#include "unit/ducts/checker.h"
#include "unit/ducts/drawn_plan.h"

namespace plan {
namespace {

const Finding* find(const Ducts& ducts, Rule rule) {
  for (const Finding& f : ducts.findings)
    if (f.rule == rule) return &f;
  return nullptr;
}

// One house on a straight street with a unit of this outside diameter in a bore.
DrawnPlan straight(double unit_mm, double bore_mm, CableClass cable_class) {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(100, 0);
  d.span(a, b);
  d.serve(d.station(a), d.premises(b, 108, 0));
  d.cables.cables[CableId(0u)].od = millimetres(unit_mm);
  d.cables.cables[CableId(0u)].cable_class = cable_class;
  d.catalogue.microducts[d.rules.distribution_microduct].id = millimetres(bore_mm);
  return d;
}

// Derived figures: (d/D)^2; the limits are makers' practice.
TEST_CASE("fill of jetted microcables: 65 % warns, 75 % fails") {
  struct Row {
    double unit, bore, fill;
  };
  for (const Row r : {Row{5.2, 8, 0.4225}, Row{5.2, 10, 0.2704}, Row{6.1, 8, 0.5814}, Row{7.9, 10, 0.6241},
                      Row{9.4, 12, 0.6136}}) {
    DrawnPlan d = straight(r.unit, r.bore, CableClass::microcable);
    CHECK(make_ducts(d.input(), {}).findings.empty());
    d.rules.microcable_fill = {0, r.fill - 0.0001};
    const Ducts tight = make_ducts(d.input(), {});
    REQUIRE(find(tight, Rule::fill_exceeded) != nullptr);
    CHECK(find(tight, Rule::fill_exceeded)->actual == doctest::Approx(r.fill).epsilon(1e-4));
    CHECK(find(tight, Rule::fill_exceeded)->at == subject(LinkId(0u)));
  }
  DrawnPlan warn = straight(6.5, 8, CableClass::microcable), fail = straight(7.0, 8, CableClass::microcable);
  CHECK(find(make_ducts(warn.input(), {}), Rule::fill_high)->actual == doctest::Approx(0.660).epsilon(1e-3));
  CHECK(find(make_ducts(fail.input(), {}), Rule::fill_exceeded)->actual ==
        doctest::Approx(0.766).epsilon(1e-3));
}

// A lower bound would refuse every fibre unit: 8.16, 20.90 and 22.68 % are normal.
TEST_CASE("fill of fibre units has no lower bound") {
  struct Row {
    double unit, bore;
  };
  for (const Row r : {Row{1.0, 3.5}, Row{1.6, 3.5}, Row{1.0, 2.1}}) {
    DrawnPlan d = straight(r.unit, r.bore, CableClass::fibre_unit);
    CHECK(make_ducts(d.input(), {}).findings.empty());
  }
}

// A street that turns by 90 degrees, five houses behind the corner.
DrawnPlan corner(double degrees_turned) {
  DrawnPlan d;
  const double a = degrees_turned * 3.14159265358979 / 180;
  const NodeId from = d.node(0, 0), at = d.node(50, 0);
  const NodeId to = d.node(50 + 50 * std::cos(a), 50 * std::sin(a));
  d.span(from, at);
  d.span(at, to);
  const StationId c = d.station(from);
  const Point end = d.network.at[to];
  for (int i = 0; i < 5; ++i)
    d.serve(c, d.premises(to, static_cast<double>(end.x) / 1000 + 8, static_cast<double>(end.y) / 1000 + i));
  return d;
}

// Makers' practice: 1.0 m at 20 C, 2.0 m at 10 C, 2.5 m at 0 C, linear between (derived): 1.5 m at 15 C.
TEST_CASE("a corner is laid no tighter than the bundle bears at the laying temperature") {
  struct Row {
    double celsius, metres;
  };
  for (const Row r : {Row{20, 1.0}, Row{15, 1.5}, Row{10, 2.0}, Row{0, 2.5}}) {
    DrawnPlan d = corner(90);
    d.rules.laying_temperature = celsius(r.celsius);
    d.rules.corner_radius = metres(r.metres);
    CHECK(find(make_ducts(d.input(), {}), Rule::bend_too_tight) == nullptr);
    d.rules.corner_radius = metres(r.metres - 0.01);
    const Ducts tight = make_ducts(d.input(), {});
    const Finding* f = find(tight, Rule::bend_too_tight);
    REQUIRE(f != nullptr);
    CHECK(f->limit == doctest::Approx(r.metres));
    CHECK(f->actual == doctest::Approx(r.metres - 0.01));
    CHECK(f->at == subject(SpanId(1u)));
    CHECK(f->mend == Mend::warmer_laying);
  }
}

TEST_CASE("a turn below the rule's corner is no bend") {
  DrawnPlan d = corner(29);
  d.rules.corner_radius = metres(0.3);
  CHECK(find(make_ducts(d.input(), {}), Rule::bend_too_tight) == nullptr);
}

TEST_CASE("colder than any known radius is a note, and the largest radius is held") {
  DrawnPlan d = corner(90);
  d.rules.laying_temperature = celsius(-5);
  d.rules.corner_radius = metres(2.5);
  const Ducts ducts = make_ducts(d.input(), {});
  REQUIRE(ducts.findings.size() == 1);
  CHECK(ducts.findings[0].rule == Rule::cold_laying);
  CHECK(ducts.findings[0].actual == -5);
  CHECK(ducts.findings[0].limit == 0);
}

// Largest minimum of unit 50, microduct 70, blowing 300 mm: 0.3 m.
TEST_CASE("a turn-out is held to the largest of unit, microduct and blowing radius") {
  DrawnPlan d = corner(90);
  d.rules.turn_out_radius = metres(0.29);
  const Ducts blown = make_ducts(d.input(), {});
  REQUIRE(find(blown, Rule::bend_too_tight) != nullptr);
  CHECK(find(blown, Rule::bend_too_tight)->limit == doctest::Approx(0.3));
  d.rules.blowing_radius = {};
  CHECK(find(make_ducts(d.input(), {}), Rule::bend_too_tight) == nullptr);
  d.rules.turn_out_radius = millimetres(60);
  CHECK(find(make_ducts(d.input(), {}), Rule::bend_too_tight)->limit == doctest::Approx(0.07));
  d.cables.cables[CableId(0u)].bend_radius = millimetres(80);
  CHECK(find(make_ducts(d.input(), {}), Rule::bend_too_tight)->limit == doctest::Approx(0.08));
}

TEST_CASE("corners are one finding a kind of duct, not one each") {
  DrawnPlan d;
  NodeId before = d.node(0, 0);
  const StationId c = d.station(before);
  for (int i = 1; i <= 10; ++i) {  // a staircase
    const int east = (i + 1) / 2, north = i / 2;
    const NodeId next = d.node(10.0 * east, 10.0 * north);
    d.span(before, next);
    before = next;
  }
  for (int i = 0; i < 3; ++i) d.serve(c, d.premises(before, 60, 60.0 + i));
  d.rules.corner_radius = metres(0.2);
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(ducts.findings.size() == 1);
  CHECK(ducts.findings[0].rule == Rule::bend_too_tight);
  CHECK(ducts.findings[0].limit == doctest::Approx(2.0));
}

}  // namespace
}  // namespace plan
