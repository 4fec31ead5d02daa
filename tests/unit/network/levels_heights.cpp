// Stacked streets, ways without drops, drops that are told where to leave, heights, and ducts by state.
#include <doctest/doctest.h>

#include "drawn.h"
#include "network/network.h"

using namespace plan;

namespace {

Network network(const Demand& d) {
  return make_network(d, {}, Run{});
}
NodeId node_at(const Network& n, Metres where) {
  for (const NodeId i : n.at.ids())
    if (n.at[i] == at(where) && n.kinds[i] != NodeKind::premises) return i;
  return {};
}
SpanId drop_of(const Demand& d, const Network& n, const char* name) {
  return n.drops[premises_named(d, name)];
}

// A lane under a bridge: both have a vertex at (50, 0).
Drawn stacked() {
  Drawn d;
  d.street("lane", {{0, 0}, {50, 0}, {100, 0}});
  d.street("bridge", {{50, -40}, {50, 0}, {50, 40}}).level = 1;
  return d;
}

}  // namespace

TEST_CASE("routes of two levels do not meet where both pass") {
  const Demand apart = stacked().demand();
  CHECK(network(apart).components == 2);
  CHECK(network(apart).spans.size() == 2);

  Drawn d = stacked();
  d.street("ramp", {{50, 40}, {80, 20}, {100, 0}});  // meets both at its ends
  CHECK(network(d.demand()).components == 1);
}

TEST_CASE("nothing leaves a way without drops") {
  Drawn d;
  d.street("viaduct", {{0, 0}, {100, 0}}).drops = false;
  d.street("lane", {{0, 30}, {100, 30}});
  d.premises("1", {50, 5});
  d.headend("exchange", {20, 5});
  const Demand estate = d.demand();
  const Network n = network(estate);
  CHECK(estate.routes[n.spans[drop_of(estate, n, "1")].route].name == "lane");
  CHECK(n.spans[drop_of(estate, n, "1")].length == metres(25));
  CHECK(node_at(n, {20, 0}) == NodeId());
}

TEST_CASE("a drop leaves where it is told to, and no farther off than any drop") {
  Drawn d;
  d.street("near", {{0, 0}, {100, 0}});
  d.street("own", {{0, 40}, {100, 40}});
  Premises& p = d.premises("1", {50, 10});
  p.drop_stated = true;
  p.drop_from = at({50, 41});
  Premises& far = d.premises("2", {50, -190});
  far.drop_stated = true;
  far.drop_from = at({50, 40});
  const Demand estate = d.demand();
  const Network n = network(estate);
  const Span& drop = n.spans[drop_of(estate, n, "1")];
  CHECK(estate.routes[drop.route].name == "own");
  CHECK(drop.length == metres(30));
  CHECK_FALSE(drop_of(estate, n, "2").valid());
  REQUIRE(n.findings.size() == 2);
  CHECK(n.findings[0].rule == Rule::premises_far_from_street);
  CHECK(n.findings[0].actual == doctest::Approx(230));
}

TEST_CASE("heights are laid on the nodes, and between vertices in proportion") {
  Drawn d;
  d.street("hill", {{0, 0}, {100, 0}, {200, 0}}).heights = {metres(100), metres(110), metres(110)};
  d.street("unknown", {{200, 0}, {300, 0}});
  d.premises("1", {30, 8});
  d.premises("2", {260, 8});
  const Demand estate = d.demand();
  const Network n = network(estate);
  REQUIRE(n.heights.size() == n.at.size());
  CHECK(n.heights[node_at(n, {30, 0})] == metres(103));
  CHECK(n.heights[n.premises_nodes[premises_named(estate, "1")]] == metres(103));
  CHECK(n.heights[node_at(n, {200, 0})] == metres(110));
  CHECK(n.heights[node_at(n, {300, 0})] == height_unknown);
  Length climbed;
  for (const SpanId s : n.spans.ids()) {
    const bool along = n.at[n.spans[s].from].x < n.at[n.spans[s].to].x;
    climbed += along ? rise(n, s) : Length() - rise(n, s);
  }
  CHECK(climbed == metres(10));  // to where heights end; the rest counts as level
}

TEST_CASE("an estate without heights has none") {
  CHECK(network(stacked().demand()).heights.empty());
}

TEST_CASE("only a proven duct is open") {
  for (const DuctState state : {DuctState::proven, DuctState::unproven, DuctState::blocked}) {
    Drawn d;
    d.street("lane", {{0, 0}, {100, 0}});
    d.duct("old", {{0, 0}, {100, 0}}).state = state;
    const Network n = network(d.demand());
    for (const Span& s : n.spans)
      CHECK(s.forbidden == (s.kind == SpanKind::existing_duct && state != DuctState::proven));
  }
}
