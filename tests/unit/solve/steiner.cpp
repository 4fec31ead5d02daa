#include "solve/steiner.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <vector>

using namespace plan;

namespace {

struct Case {
  size_t nodes = 0;
  std::vector<SteinerEdge> edges;
  std::vector<uint32_t> terminals;
  SteinerGraph graph() const { return steiner_graph(nodes, edges); }
};

// Cheapest edge set joining all terminals, by trying every subset of edges: an oracle that shares nothing
// with the code under test.
int64_t by_enumeration(const Case& c, const std::vector<uint32_t>& roots) {
  int64_t best = INT64_MAX;
  for (uint32_t set = 0; set < (1u << c.edges.size()); ++set) {
    std::vector<uint32_t> label(c.nodes);
    std::iota(label.begin(), label.end(), 0u);
    const auto join = [&](uint32_t a, uint32_t b) {
      const uint32_t from = label[a], to = label[b];
      for (uint32_t& l : label)
        if (l == from) l = to;
    };
    for (uint32_t r : roots) join(r, roots[0]);
    int64_t cost = 0;
    for (size_t e = 0; e < c.edges.size(); ++e)
      if (set >> e & 1) join(c.edges[e].from, c.edges[e].to), cost += c.edges[e].cost;
    const bool all = std::all_of(c.terminals.begin(), c.terminals.end(),
                                 [&](uint32_t t) { return label[t] == label[roots[0]]; });
    if (all) best = std::min(best, cost);
  }
  return best;
}

// Parents lead to the named root, the cost is that of the parent edges, every terminal is in.
void check_forest(const Case& c, const SteinerForest& f, const std::vector<uint32_t>& roots) {
  int64_t cost = 0;
  for (uint32_t v = 0; v < c.nodes; ++v) {
    if (f.parent[v] == steiner_none) continue;
    const SteinerEdge& e = c.edges[f.parent_edge[v]];
    CHECK(((e.from == v && e.to == f.parent[v]) || (e.to == v && e.from == f.parent[v])));
    cost += e.cost;
  }
  CHECK(cost == f.cost);
  for (uint32_t t : c.terminals) {
    uint32_t v = t;
    size_t steps = 0;
    for (; f.parent[v] != steiner_none && steps <= c.nodes; ++steps) v = f.parent[v];
    REQUIRE(f.root[t] != steiner_none);
    CHECK(v == roots[f.root[t]]);
  }
}

Case two_sided_street(int64_t x) {
  Case c{8, {}, {0, 1, 2, 5, 6, 7}};
  for (uint32_t i : {0u, 1u, 2u, 4u, 5u, 6u}) c.edges.push_back({i, i + 1, 100});
  for (uint32_t i = 0; i < 4; ++i) c.edges.push_back({i, i + 4, x});
  return c;
}

const Case triangle{4, {{0, 1, 20}, {0, 2, 20}, {1, 2, 20}, {0, 3, 11}, {1, 3, 11}, {2, 3, 11}}, {0, 1, 2}};

}  // namespace

// reference: enumeration + linear programme (derived), cases S1 to S4.
TEST_CASE("three terminals and a cheap middle: bound 33 from any root, heuristic 40") {
  for (uint32_t root : triangle.terminals) {
    const std::vector<uint32_t> roots{root};
    CHECK(by_enumeration(triangle, roots) == 33);
    CHECK(steiner_bound(triangle.graph(), triangle.terminals, roots).bound == 33);
    const SteinerForest f = steiner_forest(triangle.graph(), triangle.terminals, roots);
    check_forest(triangle, f, roots);
    CHECK(f.cost == 40);
    CHECK(f.cost <= 44);  // 2(1 - 1/3) * 33
  }
}

TEST_CASE("the directed cut bound 4.5 of a tree of 5 is not claimed as its optimum") {
  const Case c{7,
               {{0, 4, 1},
                {0, 5, 1},
                {0, 6, 1},
                {1, 4, 1},
                {1, 6, 1},
                {2, 4, 1},
                {2, 5, 1},
                {3, 5, 1},
                {3, 6, 1},
                {5, 6, 1},
                {3, 4, 2}},
               {0, 1, 2, 3}};
  for (uint32_t root : c.terminals) {
    const std::vector<uint32_t> roots{root};
    CHECK(by_enumeration(c, roots) == 5);
    CHECK(steiner_bound(c.graph(), c.terminals, roots).bound == 4);
  }
}

TEST_CASE("smallest component first, ties by id: dual ascent 10 under an optimum of 11") {
  const Case c{
      7,
      {{0, 4, 2}, {0, 5, 2}, {1, 4, 3}, {1, 5, 3}, {2, 4, 2}, {2, 6, 3}, {3, 5, 2}, {3, 6, 2}, {4, 5, 2}},
      {0, 1, 2, 3}};
  const std::vector<uint32_t> roots{0};
  CHECK(by_enumeration(c, roots) == 11);
  CHECK(steiner_bound(c.graph(), c.terminals, roots).bound == 10);
}

TEST_CASE("two-sided street: the bound is the optimum at every price of a crossing") {
  for (int64_t x : {40, 100, 160, 250, 400}) {
    CAPTURE(x);
    const Case c = two_sided_street(x);
    const int64_t best = std::min<int64_t>(300 + 2 * x, 400 + x);
    CHECK(by_enumeration(c, {0}) == best);
    CHECK(steiner_bound(c.graph(), c.terminals, std::vector<uint32_t>{0}).bound == best);
    const SteinerForest f = steiner_forest(c.graph(), c.terminals, std::vector<uint32_t>{0});
    check_forest(c, f, {0});
    CHECK(f.cost >= best);
  }
}

TEST_CASE("terminals at dead ends are a constant, and a dead end without one costs nothing") {
  // 0 root - 1 - 2 terminal; 1 - 3 terminal; 1 - 4 - 5 dead end.
  const Case c{6, {{0, 1, 10}, {1, 2, 3}, {1, 3, 4}, {1, 4, 9}, {4, 5, 9}}, {2, 3}};
  const SteinerBound b = steiner_bound(c.graph(), c.terminals, std::vector<uint32_t>{0});
  CHECK(b.forced == 17);
  CHECK(b.bound == 17);
  CHECK(steiner_forest(c.graph(), c.terminals, std::vector<uint32_t>{0}).cost == 17);
}

TEST_CASE("two roots: each terminal joins the nearer tree") {
  // 0 root - 1 - 2 - 3 - 4 root, terminals 1 and 3, the middle is dear.
  const Case c{5, {{0, 1, 2}, {1, 2, 50}, {2, 3, 50}, {3, 4, 3}}, {1, 3}};
  const std::vector<uint32_t> roots{0, 4};
  const SteinerForest f = steiner_forest(c.graph(), c.terminals, roots);
  check_forest(c, f, roots);
  CHECK(f.cost == 5);
  CHECK(f.root[1] == 0);
  CHECK(f.root[3] == 1);
  CHECK(f.root[2] == steiner_none);
  CHECK(steiner_bound(c.graph(), c.terminals, roots).bound == 5);
}

TEST_CASE("what no root reaches is left out of forest and bound and named") {
  const Case c{5, {{0, 1, 2}, {2, 3, 7}, {3, 4, -1}}, {1, 2, 4}};
  const SteinerForest f = steiner_forest(c.graph(), c.terminals, std::vector<uint32_t>{0});
  CHECK(f.cost == 2);
  CHECK(f.unreached == std::vector<uint32_t>{2, 4});
  CHECK(steiner_bound(c.graph(), c.terminals, std::vector<uint32_t>{0}).bound == 2);
}

TEST_CASE("random small graphs: bound <= optimum <= tree <= 2(1 - 1/k) optimum, one and two roots") {
  std::mt19937 random(7);
  for (int round = 0; round < 300; ++round) {
    Case c{7, {}, {}};
    for (uint32_t v = 1; v < c.nodes; ++v)
      c.edges.push_back({static_cast<uint32_t>(random() % v), v, static_cast<int64_t>(random() % 9)});
    for (int i = 0; i < 5; ++i)
      c.edges.push_back({static_cast<uint32_t>(random() % 7), static_cast<uint32_t>(random() % 7),
                         static_cast<int64_t>(random() % 9)});
    for (uint32_t v = 0; v < c.nodes; ++v)
      if (random() % 2) c.terminals.push_back(v);
    if (c.terminals.empty()) continue;
    std::vector<uint32_t> roots{static_cast<uint32_t>(random() % 7)};
    if (round % 2) roots.push_back(static_cast<uint32_t>(random() % 7));
    CAPTURE(round);
    const int64_t best = by_enumeration(c, roots);
    const SteinerForest f = steiner_forest(c.graph(), c.terminals, roots);
    const SteinerBound b = steiner_bound(c.graph(), c.terminals, roots);
    const SteinerBound stopped = steiner_bound(c.graph(), c.terminals, roots, 3);
    check_forest(c, f, roots);
    CHECK(b.bound <= best);
    CHECK(stopped.bound <= best);
    CHECK(b.forced <= b.bound);
    CHECK(best <= f.cost);
    const auto k = static_cast<int64_t>(c.terminals.size()) + 1;
    CHECK(f.cost * k <= 2 * (k - 1) * best);
    CHECK(f.cost <= f.grown_cost);
  }
}

TEST_CASE("costs times 1000 scale both exactly, and the order of edges changes neither") {
  std::mt19937 random(11);
  for (int round = 0; round < 50; ++round) {
    Case c{40, {}, {}};
    for (uint32_t v = 1; v < c.nodes; ++v)
      c.edges.push_back({static_cast<uint32_t>(random() % v), v, static_cast<int64_t>(random() % 50)});
    for (int i = 0; i < 60; ++i)
      c.edges.push_back({static_cast<uint32_t>(random() % 40), static_cast<uint32_t>(random() % 40),
                         static_cast<int64_t>(random() % 50)});
    for (uint32_t v = 1; v < c.nodes; v += 3) c.terminals.push_back(v);
    const std::vector<uint32_t> roots{0};
    const SteinerForest f = steiner_forest(c.graph(), c.terminals, roots);
    const SteinerBound b = steiner_bound(c.graph(), c.terminals, roots);
    Case shuffled = c;
    for (size_t i = shuffled.edges.size(); i-- > 1;)
      std::swap(shuffled.edges[i], shuffled.edges[random() % (i + 1)]);
    CHECK(steiner_forest(shuffled.graph(), c.terminals, roots).cost == f.cost);
    CHECK(steiner_forest(shuffled.graph(), c.terminals, roots).parent == f.parent);
    CHECK(steiner_bound(shuffled.graph(), c.terminals, roots).bound == b.bound);
    Case scaled = c;
    for (SteinerEdge& e : scaled.edges) e.cost *= 1000;
    CHECK(steiner_forest(scaled.graph(), c.terminals, roots).cost == f.cost * 1000);
    CHECK(steiner_bound(scaled.graph(), c.terminals, roots).bound == b.bound * 1000);
  }
}
