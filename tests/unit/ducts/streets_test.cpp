// Small streets drawn by hand: which bundle, which position, where it turns out.
#include <doctest/doctest.h>

#include "unit/ducts/checker.h"
#include "unit/ducts/drawn_plan.h"

namespace plan {
namespace {

// A cabinet at x = 0 and n houses along one street, 20 m apart, 8 m from it.
struct Street {
  DrawnPlan d;
  std::vector<NodeId> nodes;
  std::vector<LinkId> links;
  StationId cabinet;
  explicit Street(int n, double apart = 20) {
    nodes.push_back(d.node(0, 0));
    cabinet = d.station(nodes[0]);
    for (int i = 1; i <= n; ++i) {
      nodes.push_back(d.node(apart * i, 0));
      d.span(nodes[nodes.size() - 2], nodes.back());
    }
  }
  void houses() {
    for (size_t i = 1; i < nodes.size(); ++i) {
      const double x = static_cast<double>(d.network.at[nodes[i]].x) / 1000;
      links.push_back(d.serve(cabinet, d.premises(nodes[i], x, 8)));
    }
  }
};

const Section& first_section(const Ducts& ducts, LinkId l) {
  return ducts.sections[ducts.paths[l].front()];
}

int count(const Ducts& ducts, SectionState state) {
  return static_cast<int>(std::count_if(ducts.sections.begin(), ducts.sections.end(),
                                        [&](const Section& s) { return s.state == state; }));
}
int count(const Ducts& ducts, JointKind kind) {
  return static_cast<int>(std::count_if(ducts.joints.begin(), ducts.joints.end(),
                                        [&](const Joint& j) { return j.kind == kind; }));
}
int count(const Ducts& ducts, Rule rule) {
  return static_cast<int>(std::count_if(ducts.findings.begin(), ducts.findings.end(),
                                        [&](const Finding& f) { return f.rule == rule; }));
}
const Finding& finding(const Ducts& ducts, Rule rule) {
  REQUIRE(count(ducts, rule) == 1);
  return *std::find_if(ducts.findings.begin(), ducts.findings.end(),
                       [&](const Finding& f) { return f.rule == rule; });
}

TEST_CASE("one street: five houses share a 7-way, each turns out at its own node") {
  Street s(5);
  s.d.rules.taper_below = 0;
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(faults_of(s.d.input(), ducts).empty());
  CHECK(ducts.findings.empty());

  REQUIRE(ducts.runs.size() == 6);  // the street's bundle and five drops
  const BundleRun& street = ducts.runs[RunId(0u)];
  CHECK(s.d.catalogue.bundles[street.bundle].ways == 7);  // 5 and a spare are 6, the next size is 7
  CHECK(street.length == metres(100));
  CHECK(street.from == s.nodes[0]);
  CHECK(street.to == s.nodes[5]);
  for (size_t i = 0; i < 5; ++i) {
    const Section& used = first_section(ducts, s.links[i]);
    CHECK(used.position == static_cast<int>(i) + 1);
    CHECK(used.length == metres(20.0 * (static_cast<double>(i) + 1)));
    CHECK(used.to == s.nodes[i + 1]);
    REQUIRE(ducts.paths[s.links[i]].size() == 2);
    CHECK(ducts.sections[ducts.paths[s.links[i]][1]].length == metres(8));
  }
  CHECK(count(ducts, SectionState::used) == 10);
  CHECK(count(ducts, SectionState::dead) == 4);  // all but the last house's position
  CHECK(count(ducts, SectionState::spare) == 2);
  CHECK(count(ducts, JointKind::straight) == 5);  // drop and street have the same microduct
  CHECK(count(ducts, JointKind::block_connector) == 10);
  CHECK(count(ducts, JointKind::end_stop) == 2 * (4 + 2));
  REQUIRE(ducts.branch_points.size() == 5);
  for (const BranchPoint& b : ducts.branch_points) {
    CHECK(b.joints == 1);
    CHECK_FALSE(b.chamber.valid());  // single drops turn out in buried closures
  }
}

TEST_CASE("a drop of another microduct is joined by reducing connectors") {
  Street s(2);
  s.d.rules.taper_below = 0;
  s.d.rules.drop_microduct = s.d.microduct("8/5 mm", 8, 5);
  s.d.bundle(1, s.d.rules.drop_microduct, false);
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(faults_of(s.d.input(), ducts).empty());
  CHECK(count(ducts, JointKind::reducing) == 2);
  CHECK(count(ducts, JointKind::straight) == 0);
}

TEST_CASE("a street tapers where less than half of its ways go on") {
  Street s(20, 10);
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(faults_of(s.d.input(), ducts).empty());
  // 20 houses: 24 ways; below 12 of them: 11 houses need 13, no smaller bundle; 10 need 12.
  // From 12 ways below 6: 5 need 6, a 7-way; below 3.5: 3 need 4; below 2: 1 needs 2.
  std::vector<std::pair<int, NodeId>> runs;
  for (const BundleRun& r : ducts.runs)
    if (r.role == DuctRole::distribution) runs.emplace_back(s.d.catalogue.bundles[r.bundle].ways, r.from);
  const std::vector<std::pair<int, NodeId>> expected{
      {24, s.nodes[0]}, {12, s.nodes[10]}, {7, s.nodes[15]}, {4, s.nodes[17]}, {2, s.nodes[19]}};
  CHECK(runs == expected);
  // Each taper joins what goes on and the drop that leaves there, in a chamber.
  std::vector<std::pair<NodeId, int>> chambers;
  for (const BranchPoint& b : ducts.branch_points)
    if (b.chamber.valid()) chambers.emplace_back(b.node, b.joints);
  const std::vector<std::pair<NodeId, int>> joints{
      {s.nodes[10], 11}, {s.nodes[15], 6}, {s.nodes[17], 4}, {s.nodes[19], 2}};
  CHECK(chambers == joints);
}

TEST_CASE("at a T the bundle follows most of its ways and the others turn out together") {
  DrawnPlan d;
  const NodeId cabinet = d.node(0, 0), t = d.node(50, 0), left = d.node(50, 40), right = d.node(50, -40);
  d.span(cabinet, t);
  d.span(t, left);
  d.span(t, right);
  d.rules.taper_below = 0.25;
  const StationId c = d.station(cabinet);
  std::vector<LinkId> lefts, rights;
  for (int i = 0; i < 2; ++i) lefts.push_back(d.serve(c, d.premises(left, 45.0 - i, 48)));
  for (int i = 0; i < 4; ++i) rights.push_back(d.serve(c, d.premises(right, 45.0 - i, -48)));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  CHECK(d.catalogue.bundles[ducts.runs[RunId(0u)].bundle].ways == 7);
  CHECK(ducts.runs[RunId(0u)].to == right);
  CHECK(d.catalogue.bundles[ducts.runs[RunId(1u)].bundle].ways == 4);  // 2 and a spare are 3
  CHECK(ducts.runs[RunId(1u)].from == t);
  CHECK(ducts.runs[RunId(1u)].to == left);
  for (LinkId l : lefts) CHECK(ducts.paths[l].size() == 3);
  for (LinkId l : rights) CHECK(ducts.paths[l].size() == 2);
  REQUIRE_FALSE(ducts.branch_points.empty());
  CHECK(ducts.branch_points[0].node == t);
  CHECK(ducts.branch_points[0].joints == 2);
  CHECK(ducts.branch_points[0].chamber == d.layout_rules.chamber);
}

TEST_CASE("more links than the largest bundle holds fill one and begin another") {
  Street s(30, 10);
  s.d.rules.taper_below = 0;
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(faults_of(s.d.input(), ducts).empty());
  // 20 x 1.15 = 23 fit 24 ways, 21 x 1.15 do not; the other ten and two spare are 12.
  REQUIRE(ducts.runs_in_span[SpanId(0u)].size() == 2);
  CHECK(s.d.catalogue.bundles[ducts.runs[RunId(0u)].bundle].ways == 24);
  CHECK(s.d.catalogue.bundles[ducts.runs[RunId(1u)].bundle].ways == 12);
  CHECK(ducts.runs[RunId(0u)].to == s.nodes[20]);
  CHECK(ducts.runs_in_span[SpanId(29u)].size() == 1);
}

TEST_CASE("more bundles than the rule allows are a finding a span") {
  Street s(30, 10);
  s.d.rules.bundles_per_span = 1;
  s.d.rules.taper_below = 0;
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(count(ducts, Rule::bundles_per_span_exceeded) == 20);
  CHECK(ducts.findings[0].actual == 2);
  CHECK(ducts.findings[0].limit == 1);
}

TEST_CASE("a chamber is large enough for its joints") {
  DrawnPlan d;
  const NodeId cabinet = d.node(0, 0), t = d.node(50, 0), left = d.node(50, 40), right = d.node(50, -40);
  d.span(cabinet, t);
  d.span(t, left);
  d.span(t, right);
  d.rules.bundles_per_span = 10;
  const StationId c = d.station(cabinet);
  for (int i = 0; i < 45; ++i) {
    d.serve(c, d.premises(left, 45.0 - i, 48));
    d.serve(c, d.premises(right, 45.0 - i, -48));
  }
  d.catalogue.chambers[d.layout_rules.chamber].joints = 4;
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  REQUIRE(ducts.branch_points[0].node == t);
  CHECK(ducts.branch_points[0].joints > 4);
  CHECK(ducts.branch_points[0].chamber == ChamberTypeId(1u));
}

TEST_CASE("a drum ends at the last node before its length, all ways joined") {
  Street s(5, 30);
  s.d.rules.taper_below = 0;
  for (Bundle& b : s.d.catalogue.bundles) b.drum = metres(100);
  // All houses at the far end, so that nothing leaves before the cut.
  for (int i = 0; i < 5; ++i) s.links.push_back(s.d.serve(s.cabinet, s.d.premises(s.nodes[5], 150 + i, 8)));
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(faults_of(s.d.input(), ducts).empty());
  CHECK(ducts.findings.empty());
  CHECK(ducts.runs[RunId(0u)].length == metres(90));
  CHECK(ducts.runs[RunId(0u)].to == s.nodes[3]);
  CHECK(ducts.runs[RunId(1u)].length == metres(60));
  CHECK(ducts.runs[RunId(1u)].bundle == ducts.runs[RunId(0u)].bundle);
  for (LinkId l : s.links) {
    REQUIRE(ducts.paths[l].size() == 3);
    CHECK(ducts.sections[ducts.paths[l][0]].position == ducts.sections[ducts.paths[l][1]].position);
  }
  CHECK(ducts.branch_points[0].node == s.nodes[3]);
  CHECK(ducts.branch_points[0].joints == 7);  // the spare ways too
}

TEST_CASE("a span longer than a drum cannot be cut") {
  Street s(1, 1500);
  s.houses();
  const Ducts ducts = make_ducts(s.d.input(), {});
  const Finding& f = finding(ducts, Rule::cut_longer_than_drum);
  CHECK(f.at == subject(RunId(0u)));
  CHECK(f.actual == 1500);
  CHECK(f.limit == 1000);
}

TEST_CASE("in an existing duct lies only what may lie there, joined at its chambers") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(50, 0), c = d.node(150, 0), e = d.node(200, 0);
  d.span(a, b);
  const SpanId old = d.duct(b, c, millimetres(100));
  d.span(c, e);
  d.rules.taper_below = 0;
  const StationId cabinet = d.station(a);
  for (int i = 0; i < 9; ++i) d.serve(cabinet, d.premises(e, 200 + i, 8));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  // A 12-way may not lie in a duct: 9 go as a 7-way with 6 and a 4-way with 3.
  std::vector<int> ways;
  for (RunId r : ducts.runs_in_span[old]) ways.push_back(d.catalogue.bundles[ducts.runs[r].bundle].ways);
  CHECK(ways == std::vector<int>{7, 4});
  CHECK(ducts.runs_in_span[SpanId(0u)].size() == 1);
  // The 7-way goes on beyond the duct, the 4-way too: both may be buried.
  CHECK(ducts.findings.empty());
  CHECK(ducts.branch_points[0].node == b);
  CHECK(ducts.branch_points[0].joints == 9);
}

TEST_CASE("an existing duct is full by area: 39 mm and 24 mm in 70 mm is 0.43, of 0.6 free 0.30") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(100, 0);
  const SpanId old = d.duct(a, b, millimetres(70), 0.6);
  const StationId cabinet = d.station(a);
  for (int i = 0; i < 9; ++i) d.serve(cabinet, d.premises(b, 100 + i, 8));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  const Finding& f = finding(ducts, Rule::existing_duct_full);
  CHECK(f.at == subject(old));
  CHECK(f.actual == doctest::Approx((39.0 * 39 + 24.0 * 24) / (70.0 * 70)));
  CHECK(f.limit == doctest::Approx(0.5 * 0.6));
  CHECK(f.mend == Mend::dig_beside);
}

// Sub-ducting needs R(k) d <= bore beside the area limit (derived): two of 39 mm never pack in 70
// mm.
TEST_CASE("two bundles within the area limit that do not pack side by side are still too much") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(100, 0);
  d.duct(a, b, millimetres(70));
  d.rules.pulled_fill = {0.8, 0.9};
  d.rules.bundles_per_span = 4;
  const StationId cabinet = d.station(a);
  for (int i = 0; i < 12; ++i) d.serve(cabinet, d.premises(b, 100 + i, 8));
  const Ducts ducts = make_ducts(d.input(), {});
  const Finding& f = finding(ducts, Rule::existing_duct_full);
  CHECK(f.actual == doctest::Approx(2 * 39.0 * 39 / (70.0 * 70)));  // 0.62, within 0.9
  CHECK(f.limit == doctest::Approx(0.5));                           // two equal circles fill half a circle
}

TEST_CASE("where nothing may lie in an existing duct the plan still leads through and says so") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(100, 0);
  const SpanId old = d.duct(a, b, millimetres(100));
  for (Bundle& bundle : d.catalogue.bundles) bundle.in_duct = false;
  const LinkId l = d.serve(d.station(a), d.premises(b, 100, 8));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(ducts.paths[l].size() == 2);
  CHECK(finding(ducts, Rule::duct_in_wrong_place).at == subject(old));
}

TEST_CASE("on order: laid to the door, to the boundary, or not at all") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(30, 0);
  d.span(a, b);
  const StationId cabinet = d.station(a);
  const LinkId door = d.serve(cabinet, d.on_order(b, 30, 12, DropLaid::to_door));
  const LinkId boundary = d.serve(cabinet, d.on_order(b, 31, 12, DropLaid::to_boundary, metres(3)));
  const LinkId unknown = d.serve(cabinet, d.on_order(b, 30, -12, DropLaid::to_boundary));
  const LinkId none = d.serve(cabinet, d.on_order(b, 32, 12, DropLaid::none));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  const auto drop = [&](LinkId l) { return ducts.sections[ducts.paths[l].back()]; };
  CHECK(drop(door).length == metres(12));
  CHECK(drop(boundary).length == metres(3));
  CHECK(drop(unknown).length == metres(12));
  CHECK(ducts.paths[none].size() == 1);
  CHECK(drop(none).to == b);
  CHECK(count(ducts, SectionState::reserved) == 7);
  CHECK(count(ducts, SectionState::used) == 0);
  CHECK(count(ducts, JointKind::block_connector) == 0);  // nothing is blown yet: all closed pressure-tight
}

TEST_CASE("feeder microducts lie in bundles of their own") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), b = d.node(100, 0), c = d.node(200, 0);
  d.span(a, b);
  d.span(b, c);
  const StationId head = d.station(a, StationKind::headend);
  const StationId near = d.station(b), far = d.station(c);
  const LinkId one = d.feed(head, near), two = d.feed(head, far);
  d.serve(head, d.premises(b, 100, 8));
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  CHECK(ducts.runs_in_span[SpanId(0u)].size() == 2);
  CHECK(first_section(ducts, one).run == first_section(ducts, two).run);
  CHECK(ducts.runs[first_section(ducts, one).run].role == DuctRole::feeder);
  CHECK(d.catalogue.bundles[ducts.runs[first_section(ducts, one).run].bundle].ways == 4);
  for (const BranchPoint& p : ducts.branch_points) CHECK(p.node == b);  // the taper, not the cabinet's end
}

TEST_CASE("routes that are no tree get a run each way") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0), up = d.node(50, 10), down = d.node(50, -10), b = d.node(100, 0);
  const SpanId a_up = d.span(a, up), up_b = d.span(up, b), a_down = d.span(a, down), down_b = d.span(down, b);
  const StationId c = d.station(a);
  const PremisesId p = d.premises(b, 100, 8), q = d.premises(b, 101, 8);
  d.add_link({c, {}, p}, {a_up, up_b, d.network.drops[p]});
  d.add_link({c, {}, q}, {a_down, down_b, d.network.drops[q]});
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(faults_of(d.input(), ducts).empty());
  for (SpanId s : {a_up, up_b, a_down, down_b}) CHECK(ducts.runs_in_span[s].size() == 1);
}

TEST_CASE("a catalogue without the microduct leaves empty paths and one finding") {
  Street s(3);
  s.houses();
  s.d.rules.distribution_microduct = s.d.microduct("14/10 mm", 14, 10);
  const Ducts ducts = make_ducts(s.d.input(), {});
  CHECK(finding(ducts, Rule::no_bundle_fits).limit == 0);
  for (LinkId l : s.links) CHECK(ducts.paths[l].empty());
  CHECK(ducts.runs.empty());
}

TEST_CASE("a largest bundle of one way has no room for a spare") {
  Street s(2);
  s.houses();
  s.d.rules.distribution_microduct = s.d.microduct("14/10 mm", 14, 10);
  s.d.bundle(1, s.d.rules.distribution_microduct, true);
  const Ducts ducts = make_ducts(s.d.input(), {});
  const Finding& f = finding(ducts, Rule::no_bundle_fits);
  CHECK(f.actual == 2);
  CHECK(f.limit == 1);
  CHECK(ducts.runs_in_span[SpanId(0u)].size() == 2);
}

TEST_CASE("a link without any span needs no duct") {
  DrawnPlan d;
  const NodeId a = d.node(0, 0);
  d.span(a, d.node(10, 0));
  const StationId head = d.station(a, StationKind::headend), cabinet = d.station(a);
  const LinkId l = d.feed(head, cabinet);
  const Ducts ducts = make_ducts(d.input(), {});
  CHECK(ducts.paths[l].empty());
  CHECK(ducts.findings.empty());
}

}  // namespace
}  // namespace plan
