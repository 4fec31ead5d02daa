#include "network/network.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "drawn.h"

using namespace plan;

namespace {

Network network(const Demand& d, const SiteState& site = {}) {
  return make_network(d, site, Run{});
}

int count(const Network& n, SpanKind kind) {
  return static_cast<int>(
      std::count_if(n.spans.begin(), n.spans.end(), [&](const Span& s) { return s.kind == kind; }));
}
NodeId node_at(const Network& n, Metres where, NodeKind kind = NodeKind::street) {
  for (NodeId i : n.at.ids())
    if (n.at[i] == at(where) && n.kinds[i] == kind) return i;
  return {};
}
int degree(const Network& n, NodeId node) {
  int d = 0;
  for (const Span& s : n.spans) d += (s.from == node) + (s.to == node);
  return d;
}
Length total(const Network& n, SpanKind kind) {
  Length sum;
  for (const Span& s : n.spans)
    if (s.kind == kind) sum += s.length;
  return sum;
}
std::vector<Rule> rules(const Network& n) {
  std::vector<Rule> r;
  for (const Finding& f : n.findings) r.push_back(f.rule);
  return r;
}
void check_promises(const Demand& d, const Network& n) {
  REQUIRE(n.kinds.size() == n.at.size());
  REQUIRE(n.component.size() == n.at.size());
  REQUIRE(n.shapes.size() == n.spans.size());
  size_t disordered = 0, wrong_ends = 0, wrong_length = 0, wrong_drop = 0;
  for (NodeId i : n.at.ids())
    disordered += i.value > 0 && hilbert(n.at[NodeId(i.value - 1)]) > hilbert(n.at[i]);
  for (SpanId s : n.spans.ids()) {
    const Span& span = n.spans[s];
    const auto line = n.shapes[s];
    wrong_ends += line.front() != n.at[span.from] || line.back() != n.at[span.to];
    wrong_length += span.length != std::max(polyline_length(line), millimetres(1));
  }
  for (PremisesId p : d.premises.ids()) {
    if (!n.drops[p].valid()) continue;
    const Span& drop = n.spans[n.drops[p]];
    wrong_drop += drop.kind != SpanKind::drop || drop.to != n.premises_nodes[p] ||
                  n.kinds[drop.from] == NodeKind::premises || n.at[drop.to] != d.premises[p].at;
  }
  CHECK(disordered == 0);
  CHECK(wrong_ends == 0);
  CHECK(wrong_length == 0);
  CHECK(wrong_drop == 0);
}

}  // namespace

TEST_CASE("routes meet at a shared vertex, to the millimetre, and nowhere else") {
  Drawn d;
  d.street("west-east", {{0, 0}, {50, 0}, {100, 0}});
  d.street("south-north", {{50, -40}, {50, 0}, {50, 40}});
  d.street("bridge", {{20, -40}, {20, 40}});     // crosses without a vertex
  d.street("nearly", {{50.001, 10}, {90, 10}});  // 1 mm off
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(n.spans.size() == 6);
  CHECK(n.at.size() == 9);
  CHECK(degree(n, node_at(n, {50, 0})) == 4);
  CHECK(n.components == 3);
}

TEST_CASE("the end of a route on another's inner vertex splits that one") {
  Drawn d;
  d.street("main", {{0, 0}, {30, 0}, {60, 0}});
  d.street("side", {{30, 0}, {30, 20}});
  const Network n = network(d.demand());
  CHECK(n.spans.size() == 3);
  CHECK(degree(n, node_at(n, {30, 0})) == 3);
  CHECK(total(n, SpanKind::street) == metres(80));
}

TEST_CASE("a premises hangs on the nearest point of the nearest route") {
  Drawn d;
  d.surface("garden");
  d.street("main", {{0, 0}, {100, 0}});
  d.street("other", {{0, 30}, {100, 30}});
  d.premises("1", {40, 12});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  const Span drop = n.spans[n.drops[premises_named(estate, "1")]];
  CHECK(drop.length == metres(12));
  CHECK(drop.route == route_named(estate, "main"));
  CHECK(estate.surfaces[drop.surface] == "garden");
  CHECK(n.at[drop.from] == at({40, 0}));
  CHECK(count(n, SpanKind::street) == 3);
  CHECK(total(n, SpanKind::street) == metres(200));
}

TEST_CASE("a drop has the surface of its route where no garden is known") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}}, "footway");
  d.premises("1", {40, 12});
  const Demand estate = d.demand();
  const Network n = network(estate);
  CHECK(estate.surfaces[n.spans[n.drops[premises_named(estate, "1")]].surface] == "footway");
}

TEST_CASE("premises that share a point, a street node or lie on the street each have a drop of their own") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}});
  d.premises("over", {40, 12});
  d.premises("under", {40, -7});
  d.premises("twin a", {60, 5});
  d.premises("twin b", {60, 5});
  d.premises("on it", {80, 0});
  d.premises("end", {105, 0});
  d.premises("at end", {100, 0});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(count(n, SpanKind::drop) == 7);
  CHECK(count(n, SpanKind::street) == 4);  // cut at 40, 60 and 80
  CHECK(n.spans[n.drops[premises_named(estate, "on it")]].length == millimetres(1));
  CHECK(n.spans[n.drops[premises_named(estate, "at end")]].length == millimetres(1));
  CHECK(n.spans[n.drops[premises_named(estate, "end")]].length == metres(5));
  CHECK(degree(n, node_at(n, {40, 0})) == 4);
  CHECK(degree(n, node_at(n, {100, 0})) == 3);
  CHECK(n.premises_nodes[premises_named(estate, "twin a")] !=
        n.premises_nodes[premises_named(estate, "twin b")]);
  CHECK(n.components == 1);
}

TEST_CASE("rings, self-loops and parallel routes stay") {
  Drawn d;
  d.street("ring", {{0, 0}, {50, 0}, {50, 50}, {0, 0}});
  d.street("there", {{0, 0}, {0, -80}});
  d.street("there again", {{0, 0}, {0, -80}});
  d.street("detour", {{0, -80}, {20, -40}, {0, 0}});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(n.at.size() == 2);
  CHECK(n.spans.size() == 4);
  const auto self =
      std::count_if(n.spans.begin(), n.spans.end(), [](const Span& s) { return s.from == s.to; });
  CHECK(self == 1);

  d.premises("1", {60, 25});
  const Demand with = d.demand();
  const Network m = network(with);
  CHECK(m.spans.size() == 6);  // the ring cut once, and a drop
}

TEST_CASE("parts of no length are dropped") {
  Drawn d;
  d.street("main", {{0, 0}, {0, 0}, {30, 0}, {30, 0}, {60, 0}});
  d.street("nothing", {{10, 10}, {10, 10}});
  d.premises("1", {30, 5});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(count(n, SpanKind::street) == 2);
  CHECK(total(n, SpanKind::street) == metres(60));
}

TEST_CASE("an existing duct is a span between its own ends only") {
  Drawn d;
  d.street("main", {{0, 0}, {50, 0}, {100, 0}});
  d.street("side", {{50, 0}, {50, 30}});
  d.duct("old", {{0, 0}, {50, 0}, {100, 0}});
  d.premises("1", {70, 4});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  REQUIRE(count(n, SpanKind::existing_duct) == 1);
  CHECK(total(n, SpanKind::existing_duct) == metres(100));
  CHECK(degree(n, node_at(n, {50, 0})) == 3);  // the duct passes by
  CHECK(degree(n, node_at(n, {0, 0})) == 2);
  CHECK(n.components == 1);
}

TEST_CASE("a chamber within two metres of a street joins it, one farther away does not") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}});
  d.duct("near", {{20, 1.5}, {60, 1.5}});
  d.duct("far", {{20, 2.5}, {60, 2.5}});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(n.components == 2);
  CHECK(count(n, SpanKind::street) == 3);
  for (const Span& s : n.spans)
    if (s.route == route_named(estate, "near")) CHECK(s.length == metres(43));
}

TEST_CASE("nothing hangs on forbidden or blocked routes and nothing goes through them") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}});
  d.street("square", {{0, 10}, {100, 10}}).forbidden = true;
  d.street("works", {{0, 20}, {100, 20}});
  d.premises("1", {50, 15});
  const Demand estate = d.demand();
  const Network n = network(estate, SiteState{{"works"}});
  check_promises(estate, n);
  CHECK(n.spans[n.drops[premises_named(estate, "1")]].length == metres(15));
  for (const Span& s : n.spans) CHECK(s.forbidden == (s.route != route_named(estate, "main")));
  CHECK(network(estate).spans[network(estate).drops[premises_named(estate, "1")]].length == metres(5));
}

TEST_CASE("a headend and a site get a link, none where they stand on a street") {
  Drawn d;
  d.street("main", {{0, 0}, {50, 0}, {100, 0}});
  d.headend("off", {10, 6});
  d.headend("on", {30, 0});
  d.site("vertex", {50, 0});
  d.site("verge", {70, -2});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(count(n, SpanKind::link) == 2);
  CHECK(total(n, SpanKind::link) == metres(8));
  CHECK(n.at[n.headend_nodes[headend_named(estate, "on")]] == at({30, 0}));
  CHECK(degree(n, n.headend_nodes[headend_named(estate, "on")]) == 2);
  CHECK(n.kinds[n.site_nodes[site_named(estate, "vertex")]] == NodeKind::site);
  CHECK(n.kinds[n.headend_nodes[headend_named(estate, "off")]] == NodeKind::headend);
  CHECK(n.components == 1);
  CHECK(n.findings.empty());
}

TEST_CASE("premises that no headend reaches are findings with the gap that would join them") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}});
  d.headend("exchange", {0, 5});
  d.street("island", {{40, 20}, {80, 20}});  // 20 m off, no vertex near
  d.street("spur", {{90, 0.4}, {90, 30}});   // stops 0.4 m short of the street
  d.street("beyond", {{100, 0}, {100, -60}}).forbidden = true;
  d.street("cut off", {{100, -60}, {200, -60}});
  d.premises("joined", {50, -5});
  d.premises("on island", {60, 25});
  d.premises("on spur", {95, 25});
  d.premises("cut", {150, -65});
  d.premises("never", {61, 25}).connect = Connect::never;
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(n.reached[premises_named(estate, "joined")] == 1);
  CHECK(n.reached[premises_named(estate, "never")] == 0);
  REQUIRE(n.findings.size() == 3);
  const auto gap = [&](const char* name) {
    for (const Finding& f : n.findings)
      if (f.at == subject(premises_named(estate, name)) && f.rule == Rule::premises_unreached)
        return f.actual;
    return -1.0;
  };
  CHECK(gap("on island") == doctest::Approx(20));
  CHECK(gap("on spur") == doctest::Approx(0.4));
  CHECK(gap("cut") == doctest::Approx(60));
}

TEST_CASE("what lies farther than 200 m from every street stands alone and is a finding") {
  Drawn d;
  d.street("main", {{0, 0}, {100, 0}});
  d.headend("exchange", {0, 300});
  d.site("moor", {50, 250});
  d.site("ruled out", {50, 251}).forbidden = true;
  d.premises("edge", {50, 200});
  d.premises("hut", {50, 200.001});
  const Demand estate = d.demand();
  const Network n = network(estate);
  check_promises(estate, n);
  CHECK(rules(n) == std::vector<Rule>{Rule::premises_far_from_street, Rule::headend_far_from_street,
                                      Rule::site_far_from_street, Rule::premises_unreached});
  CHECK(n.findings[0].at == subject(premises_named(estate, "hut")));
  CHECK(n.findings[0].actual == doctest::Approx(200.001));
  CHECK(!n.drops[premises_named(estate, "hut")].valid());
  CHECK(n.premises_nodes[premises_named(estate, "hut")].valid());
  CHECK(n.findings[3].actual == doctest::Approx(300));  // from the end of the street to the headend itself
}

TEST_CASE("an estate without streets, or with nothing, is no crash") {
  CHECK(network(Demand{}).at.empty());
  Drawn d;
  d.premises("1", {0, 0});
  d.headend("exchange", {1, 0});
  const Network n = network(d.demand());
  CHECK(n.spans.empty());
  CHECK(n.findings.size() == 2);
}

TEST_CASE("a town has the nodes and spans that its plan says") {
  const Demand estate = drawn_grid(10, 8, 100, 4);
  const Network n = network(estate);
  check_promises(estate, n);
  const size_t sides = 9 * 8 + 10 * 7, premises = sides * 4;
  CHECK(estate.premises.size() == premises);
  // Every premises adds a node to its side and a node and a span of its own; the headend one of each.
  CHECK(n.at.size() == 80 + 2 * premises + 1);
  CHECK(n.spans.size() == sides + 2 * premises + 1);
  CHECK(n.components == 1);
  CHECK(total(n, SpanKind::street) == metres(100.0 * static_cast<double>(sides)));
  CHECK(total(n, SpanKind::drop) == metres(8.0 * static_cast<double>(premises)));
}

TEST_CASE("the order of premises and routes, the drawn direction and the threads change nothing") {
  const Demand estate = drawn_grid(6, 6, 90, 3);
  const Network n = network(estate);
  std::mt19937 draw(11);
  Demand other = estate;
  std::vector<Route> routes(estate.routes.begin(), estate.routes.end());
  std::vector<Premises> premises(estate.premises.begin(), estate.premises.end());
  std::shuffle(routes.begin(), routes.end(), draw);
  std::shuffle(premises.begin(), premises.end(), draw);
  for (Route& r : routes)
    if (draw() % 2) std::reverse(r.line.begin(), r.line.end());
  other.routes = {};
  other.premises = {};
  for (Route& r : routes) other.routes.add(r);
  for (Premises& p : premises) other.premises.add(p);
  const Network m = network(other);
  CHECK(m.at == n.at);
  CHECK(m.kinds == n.kinds);
  CHECK(m.shapes == n.shapes);
  CHECK(m.component == n.component);
  size_t different = 0;
  for (SpanId s : n.spans.ids())
    different += n.spans[s].length != m.spans[s].length || n.spans[s].kind != m.spans[s].kind ||
                 estate.routes[n.spans[s].route].name != other.routes[m.spans[s].route].name;
  CHECK(different == 0);
  CHECK(make_network(estate, {}, Run{.threads = 2}) == n);
}
