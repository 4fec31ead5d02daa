#include "layout/shortening.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "held.h"
#include "layout/relief.h"

using namespace plan;

namespace {

struct Ways {
  const Estate& e;
  Table<SpanId, uint8_t> open = open_spans(e.network, e.basis, e.asks);
  StreetGraph graph = open_graph(e.network, open);
  Table<NodeId, int64_t> shortest = shortest_ways(e.network, graph);
  TrenchForest forest = trench_forest(e.network, e.basis, open);
  explicit Ways(const Estate& estate) : e(estate) {}
  ShorteningGround ground() const { return {e.network, e.basis, graph, shortest}; }
  bool shorten(std::vector<NodeId> ends, int64_t limit) {
    return plan::shorten(forest, ground(), std::move(ends), limit);
  }
};

// A row of houses round three sides of a block: from the headend north, east and south again. The fourth
// side, from the headend straight east, has no houses.
//
//    (0,200) ------- (300,200)
//       |                |
//    exchange ~~~~~~~ (300,0) --- end (340,0)
Drawn block() {
  Drawn d;
  d.street("west", {{0, 0}, {0, 200}});
  d.street("north", {{0, 200}, {300, 200}});
  d.street("east", {{300, 200}, {300, 0}});
  d.street("end", {{300, 0}, {340, 0}});
  d.street("south", {{0, 0}, {300, 0}});
  d.headend("exchange", {0, 0});
  for (int i = 0; i < 4; ++i) d.premises("w" + std::to_string(i), {8, 20.0 + 50 * i});
  for (int i = 0; i < 6; ++i) d.premises("n" + std::to_string(i), {20.0 + 50 * i, 208});
  for (int i = 0; i < 4; ++i) d.premises("e" + std::to_string(i), {292, 20.0 + 50 * i});
  d.premises("last", {338, 8});
  return d;
}

SpanId longest_span(const Estate& e, std::string_view route) {
  SpanId best;
  for (SpanId s : e.network.spans.ids()) {
    const Span& span = e.network.spans[s];
    if (span.kind != SpanKind::street || e.demand.routes[span.route].name != route) continue;
    if (!best.valid() || e.network.spans[best].length < span.length) best = s;
  }
  return best;
}

int64_t opened(const Estate& e, const TrenchForest& forest) {
  int64_t cents = 0;
  for (SpanId s : forest.parent_span)
    if (s.valid()) cents += e.basis.open_cost[s].cents;
  return cents;
}

// Every node of the forest hangs on its parent by its span, and the walk passes all of them.
void check_joined(const Estate& e, const TrenchForest& forest) {
  int64_t sum = 0;
  for (NodeId n : forest.order) {
    const NodeId p = forest.parent[n];
    if (!p.valid()) continue;
    const Span& span = e.network.spans[forest.parent_span[n]];
    sum += e.basis.open_cost[forest.parent_span[n]].cents;
    CHECK(((span.from == n && span.to == p) || (span.from == p && span.to == n)));
    CHECK(forest.depth[n] == forest.depth[p] + to_whole_millimetres(span.length));
    CHECK(forest.headend[n] == forest.headend[p]);
    CHECK(forest.position[p] < forest.position[n]);
  }
  CHECK(sum == opened(e, forest));
}

size_t below(const TrenchForest& forest, SpanId span, const std::vector<NodeId>& ends) {
  size_t count = 0;
  for (NodeId n : ends)
    for (; forest.parent[n].valid(); n = forest.parent[n]) count += forest.parent_span[n] == span;
  return count;
}

}  // namespace

TEST_CASE("the chord is opened where the limit asks for it, and the trench it makes needless is shut") {
  const Estate e = estate_of(block().demand());
  Ways ways(e);
  const NodeId last = e.network.premises_nodes[premises_named(e.demand, "last")];
  // 200 + 300 + 200 + 38 m along the houses and 8 m of drop, or 300 + 38 + 8 m over the fourth side.
  REQUIRE(ways.forest.depth[last] == 746'000);
  REQUIRE(ways.shortest[last] == 346'000);
  const int64_t before = opened(e, ways.forest);
  SUBCASE("within the limit nothing moves") {
    CHECK_FALSE(ways.shorten({last}, 746'000));
    CHECK(opened(e, ways.forest) == before);
  }
  SUBCASE("one millimetre less opens the fourth side") {
    REQUIRE(ways.shorten({last}, 745'999));
    CHECK(ways.forest.depth[last] == 346'000);
    // 300 m are opened; the 20 m from the corner to the first house of the east side are shut.
    CHECK(opened(e, ways.forest) == before + (300 - 20) * 10'000);
  }
  SUBCASE("what no path can reach stays where it is") {
    CHECK_FALSE(ways.shorten({last}, 345'999));
    CHECK(ways.forest.depth[last] == 746'000);
  }
}

TEST_CASE("a feeder beyond its limit is led over a chord, in the whole layout") {
  Estate e = estate_of(block().demand());
  e.basis.cabinet = {CabinetTypeId(0u), 5, 100};
  e.basis.longest_feeder = metres(2000);
  e.basis.feeder_metre = {1};
  const Layout wide = e.plan();
  CHECK(broken(e, wide).empty());
  const SpanId side = longest_span(e, "south");
  CHECK_FALSE(wide.used[side]);
  e.basis.longest_feeder = metres(430);
  const Layout kept = e.plan();
  CHECK(broken(e, kept).empty());
  CHECK(count(kept, Rule::feeder_duct_too_long) == 0);
  CHECK(kept.used[side]);
  CHECK(kept.trench_bound == wide.trench_bound);  // on what no limit binds
  CHECK(kept.trench_cost > wide.trench_cost);
  e.network.spans[side].forbidden = true;
  e.basis.usable[side] = 0;
  const Layout shut = e.plan();
  CHECK(broken(e, shut).empty());
  CHECK(count(shut, Rule::feeder_duct_too_long) > 0);
}

// Two headends a kilometre apart, houses all along between them but for a bridge of 30 m. The east one stands
// 60 m up a lane: for the trench alone the bridge is the cheaper way to both banks.
TEST_CASE("two headends with a bridge between: beyond the limit a bank is fed by its own headend") {
  Drawn d;
  d.street("west bank", {{0, 0}, {500, 0}});
  d.street("bridge", {{500, 0}, {530, 0}});
  d.street("east bank", {{530, 0}, {1030, 0}});
  d.street("lane", {{1030, 0}, {1030, 60}});
  d.headend("west", {0, 0});
  d.headend("east", {1030, 60});
  for (int i = 0; i < 10; ++i) d.premises("w" + std::to_string(i), {20.0 + 48 * i, 8});
  for (int i = 0; i < 10; ++i) d.premises("e" + std::to_string(i), {540.0 + 48 * i, 8});
  Estate e = estate_of(d.demand());
  e.basis.cabinet = {CabinetTypeId(0u), 5, 100};
  e.basis.feeder_metre = {1};
  e.basis.longest_drop = metres(150);  // no cabinet stands on the other bank
  e.basis.longest_feeder = metres(2000);
  const auto headend_of = [&](const Layout& l, const char* name) {
    return l.stations[server(l, premises_named(e.demand, name))].headend;
  };
  const HeadendId west = headend_named(e.demand, "west"), east = headend_named(e.demand, "east");
  const Layout wide = e.plan();
  CHECK(broken(e, wide).empty());
  for (const char* name : {"e1", "e4", "e9"})
    CHECK(headend_of(wide, name) == west);  // the bridge of 30 m is cheaper than the lane of 60 m
  CHECK(wide.used[longest_span(e, "bridge")]);
  e.basis.longest_feeder = metres(520);  // of 588 m to e1 from the west, 502 m from the east
  const Layout kept = e.plan();
  CHECK(broken(e, kept).empty());
  CHECK(count(kept, Rule::feeder_duct_too_long) == 0);
  for (const char* name : {"w0", "w4", "w9"}) CHECK(headend_of(kept, name) == west);
  for (const char* name : {"e1", "e4", "e9"}) CHECK(headend_of(kept, name) == east);
}

TEST_CASE("a crowded span: a quarter of its feeders leaves it, as often as it is asked") {
  const Estate e = estate_of(block().demand());
  Ways ways(e);
  std::vector<NodeId> cabinets;  // where every drop turns out
  for (SpanId s : e.network.drops) cabinets.push_back(e.network.spans[s].from);
  REQUIRE(cabinets.size() == 15);
  SpanId crowded;  // the first on the way from the exchange
  for (SpanId s : e.network.spans.ids())
    if (below(ways.forest, s, cabinets) == cabinets.size()) crowded = s;
  REQUIRE(crowded.valid());
  const auto relieve = [&](const std::vector<SpanId>& asked) {
    return plan::relieve(ways.forest, ways.ground(), cabinets, asked);
  };
  SUBCASE("once") {
    REQUIRE(relieve(std::vector<SpanId>{crowded}));
    CHECK(below(ways.forest, crowded, cabinets) <= 11);
    CHECK(below(ways.forest, longest_span(e, "south"), cabinets) >= 4);
  }
  SUBCASE("three times") {
    REQUIRE(relieve({crowded, crowded, crowded}));
    CHECK(below(ways.forest, crowded, cabinets) <= 6);  // 15, 11, 8, 6
    CHECK(below(ways.forest, longest_span(e, "south"), cabinets) >= 9);
  }
  SUBCASE("not where both trunks are crowded") {
    std::vector<SpanId> both{crowded, longest_span(e, "south")};
    std::sort(both.begin(), both.end());
    CHECK_FALSE(relieve(both));
  }
  check_joined(e, ways.forest);
  for (NodeId n : cabinets) CHECK(ways.forest.depth[n] <= to_whole_millimetres(e.basis.longest_feeder));
}

TEST_CASE("a feeder leaves a crowded span only within its limit") {
  Estate e = estate_of(block().demand());
  e.basis.longest_feeder = metres(340);
  Ways ways(e);
  std::vector<NodeId> cabinets;
  for (SpanId s : e.network.drops) cabinets.push_back(e.network.spans[s].from);
  SpanId crowded;
  for (SpanId s : e.network.spans.ids())
    if (below(ways.forest, s, cabinets) == cabinets.size()) crowded = s;
  plan::relieve(ways.forest, ways.ground(), cabinets, std::vector<SpanId>(9, crowded));
  check_joined(e, ways.forest);
  // 300 m of the south side and 20 m up the east side to the first house there; the next is at 370 m.
  CHECK(below(ways.forest, longest_span(e, "south"), cabinets) == 2);
}

TEST_CASE("shortening on random towns: nothing gets deeper, what can meet the limit does, all stay joined") {
  size_t moved = 0, met = 0;
  for (uint32_t seed = 1; seed <= 60; ++seed) {
    std::mt19937 random(seed);
    const auto draw = [&](uint32_t n) { return static_cast<int>(random() % n); };
    Drawn d;
    const int size = 3 + draw(4);
    for (int y = 0; y <= size; ++y)
      for (int x = 0; x <= size; ++x) {
        const Metres here{x * 80.0, y * 80.0};
        const std::string name = std::to_string(y * 10 + x);
        if (x < size && draw(8) > 0) d.street("x" + name, {here, {here.x + 80, here.y}});
        if (y < size && draw(8) > 0) d.street("y" + name, {here, {here.x, here.y + 80}});
        if (draw(2)) d.premises(name, {here.x + 15, here.y + 8});
      }
    d.street("spine", {{0, -80}, {0, 0}});
    d.premises("first", {8, -40});
    d.headend("exchange", {0, -80});
    if (draw(2)) d.headend("second", {size * 80.0, size * 80.0});
    Estate e = estate_of(d.demand());
    for (SpanId s : e.network.spans.ids()) e.basis.open_cost[s] = e.basis.open_cost[s] * (1 + draw(4));
    Ways ways(e);
    const TrenchForest before = ways.forest;
    std::vector<NodeId> ends;
    for (NodeId n : e.network.premises_nodes)
      if (before.holds(n)) ends.push_back(n);
    const int64_t limit = 200'000 + 1'000 * draw(400);
    CAPTURE(seed);
    moved += ways.shorten(ends, limit);
    for (NodeId n : ends) {
      REQUIRE(ways.forest.holds(n));
      CHECK(ways.forest.depth[n] <= before.depth[n]);
      if (ways.shortest[n] > limit) continue;
      CHECK(ways.forest.depth[n] <= limit);
      met += before.depth[n] > limit;
    }
    check_joined(e, ways.forest);
  }
  CHECK(moved > 20);
  CHECK(met > 100);
}
