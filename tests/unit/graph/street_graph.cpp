#include "graph/street_graph.h"

#include <doctest/doctest.h>

#include <random>

#include "graph/search.h"

using namespace plan;

namespace {

struct Grid {
  Table<SpanId, Ends> ends;
  Table<SpanId, int64_t> cost;
  size_t nodes = 0;
};

// side x side crossings; costs 1 … 1000 from a fixed seed.
Grid grid(uint32_t side) {
  Grid g;
  g.nodes = size_t{side} * side;
  std::mt19937 draw(7);
  const auto add = [&](uint32_t a, uint32_t b) {
    g.ends.add({NodeId(a), NodeId(b)});
    g.cost.add(static_cast<int64_t>(draw() % 1000 + 1));
  };
  for (uint32_t y = 0; y < side; ++y)
    for (uint32_t x = 0; x < side; ++x) {
      const uint32_t here = y * side + x;
      if (x + 1 < side) add(here, here + 1);
      if (y + 1 < side) add(here, here + side);
    }
  return g;
}

int64_t cost_of(const std::vector<SpanId>& path, const Grid& g) {
  int64_t sum = 0;
  for (SpanId s : path) sum += g.cost[s];
  return sum;
}

}  // namespace

TEST_CASE("arcs keep parallel spans and self-loops apart") {
  Table<SpanId, Ends> ends;
  ends.add({NodeId(0u), NodeId(1u)});
  ends.add({NodeId(1u), NodeId(0u)});
  ends.add({NodeId(1u), NodeId(1u)});
  const StreetGraph g(3, ends);
  REQUIRE(g.arcs(NodeId(0u)).size() == 2);
  CHECK(g.arcs(NodeId(0u))[1] == Arc{NodeId(1u), SpanId(1u)});
  REQUIRE(g.arcs(NodeId(1u)).size() == 3);
  CHECK(g.arcs(NodeId(1u))[2] == Arc{NodeId(1u), SpanId(2u)});
  CHECK(g.arcs(NodeId(2u)).empty());

  Table<SpanId, uint8_t> allowed(3, 1);
  allowed[SpanId(0u)] = 0;
  CHECK(StreetGraph(3, ends, allowed).arcs(NodeId(0u)).size() == 1);
}

TEST_CASE("components are numbered by their smallest node") {
  Table<SpanId, Ends> ends;
  ends.add({NodeId(5u), NodeId(1u)});
  ends.add({NodeId(4u), NodeId(2u)});
  ends.add({NodeId(2u), NodeId(0u)});
  const Table<NodeId, uint32_t> c = components(StreetGraph(6, ends));
  const std::vector<uint32_t> found(c.begin(), c.end());
  CHECK(found == std::vector<uint32_t>{0, 1, 0, 2, 0, 1});
  CHECK(components(StreetGraph(0, {})).empty());
}

TEST_CASE("of two parallel spans the cheaper one is taken") {
  Table<SpanId, Ends> ends;
  Table<SpanId, int64_t> cost;
  for (int64_t c : {9, 4, 7}) {
    ends.add({NodeId(0u), NodeId(1u)});
    cost.add(c);
  }
  const NodeId start(0u);
  const PathTree t = shortest_paths(StreetGraph(3, ends), cost, std::span<const NodeId>(&start, 1));
  CHECK(t.cost[NodeId(1u)] == 4);
  CHECK(t.by[NodeId(1u)] == SpanId(1u));
  CHECK(t.cost[NodeId(2u)] == unreachable);
  CHECK(!t.by[NodeId(2u)].valid());
}

TEST_CASE("own search equals Boost's Dijkstra on a 200 x 200 grid, one seed and many") {
  const Grid g = grid(200);
  const StreetGraph graph(g.nodes, g.ends);
  Search search(graph);
  for (const std::vector<uint32_t>& starts :
       {std::vector<uint32_t>{0}, std::vector<uint32_t>{20100}, std::vector<uint32_t>{3, 777, 39999}}) {
    std::vector<NodeId> sources;
    std::vector<Seed> seeds;
    for (uint32_t s : starts) {
      sources.push_back(NodeId(s));
      seeds.push_back({NodeId(s), 0});
    }
    const PathTree tree = shortest_paths(graph, g.cost, sources);
    search.from(seeds, [&](SpanId s) { return g.cost[s]; });
    CHECK(search.settled().size() == g.nodes);
    size_t different = 0, broken = 0;
    for (NodeId n : Ids<NodeId>(g.nodes)) {
      different += search.cost(n) != tree.cost[n];
      broken += n.value % 97 == 0 && cost_of(search.path(n), g) != tree.cost[n];
    }
    CHECK(different == 0);
    CHECK(broken == 0);
  }
}

TEST_CASE("a search that stops early has the right costs and forgets the one before") {
  const Grid g = grid(60);
  const StreetGraph graph(g.nodes, g.ends);
  const auto cost = [&](SpanId s) { return g.cost[s]; };
  Search search(graph);
  search.from(NodeId(0u), cost, [](NodeId, int64_t) { return false; });
  const NodeId start(1830u);
  const PathTree tree = shortest_paths(graph, g.cost, std::span<const NodeId>(&start, 1));
  const NodeId end = search.from(start, cost, [](NodeId, int64_t c) { return c > 2000; });
  REQUIRE(end.valid());
  CHECK(search.cost(end) > 2000);
  CHECK(search.settled().size() < g.nodes / 4);
  int64_t last = 0;
  for (NodeId n : search.settled()) {
    CHECK(search.cost(n) == tree.cost[n]);
    CHECK(search.cost(n) >= last);
    last = search.cost(n);
  }
  size_t within = 0;
  for (NodeId n : Ids<NodeId>(g.nodes)) within += tree.cost[n] <= 2000;
  CHECK(search.settled().size() == within + 1);
  CHECK(!search.is_settled(NodeId(0u)));
  CHECK(search.cost(NodeId(0u)) == unreachable);
}

TEST_CASE("a search goes round spans of negative cost and remembers its seed") {
  Table<SpanId, Ends> ends;  // a square 0-1-2-3
  for (uint32_t i = 0; i < 4; ++i) ends.add({NodeId(i), NodeId((i + 1) % 4)});
  const StreetGraph graph(4, ends);
  Search search(graph);
  const std::vector<Seed> seeds{{NodeId(0u), 0}, {NodeId(2u), 10}};
  search.from(seeds, [](SpanId s) -> int64_t { return s.value == 0 ? -1 : 20; });
  CHECK(search.cost(NodeId(1u)) == 30);
  CHECK(search.seed(NodeId(1u)) == NodeId(2u));
  CHECK(search.cost(NodeId(3u)) == 20);
  CHECK(search.seed(NodeId(3u)) == NodeId(0u));
  CHECK(search.path(NodeId(1u)) == std::vector<SpanId>{SpanId(1u)});
}
