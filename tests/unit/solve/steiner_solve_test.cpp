// The Steiner engine against enumeration on small graphs, worked examples, and its own laws. The examples are
// derived: enumeration of all trees.
#include "solve/steiner_solve.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "solve/steiner_ascent.h"
#include "solve/steiner_growth.h"
#include "solve/steiner_reduction.h"
#include "solve/steiner_starts.h"
#include "solve/steiner_vertices.h"

using namespace plan;

namespace {

// Cheapest edge set that joins all terminals, by trying every subset.
int64_t by_enumeration(const SteinerProblem& p) {
  int64_t best = INT64_MAX;
  for (uint32_t set = 0; set < (1u << p.edges.size()); ++set) {
    NodeSets sets(p.nodes());
    int64_t cost = 0;
    for (size_t e = 0; e < p.edges.size(); ++e)
      if (set >> e & 1) sets.unite(p.edges[e].from, p.edges[e].to), cost += p.edges[e].cost;
    uint32_t root = steiner_none;
    bool all = true;
    for (uint32_t v = 0; v < p.nodes(); ++v) {
      if (!p.terminal[v]) continue;
      if (root == steiner_none) root = sets.find(v);
      all = all && sets.find(v) == root;
    }
    if (all) best = std::min(best, cost);
  }
  return best;
}

// Spans the terminals, holds no circle, ends at terminals only, costs what it says.
void check_tree(const SteinerProblem& p, const SteinerTree& tree) {
  NodeSets sets(p.nodes());
  std::vector<int> degree(p.nodes(), 0);
  int64_t cost = 0;
  for (uint32_t e : tree.edges) {
    CHECK(sets.unite(p.edges[e].from, p.edges[e].to));
    ++degree[p.edges[e].from], ++degree[p.edges[e].to];
    cost += p.edges[e].cost;
  }
  CHECK(cost == tree.cost);
  CHECK(std::is_sorted(tree.edges.begin(), tree.edges.end()));
  uint32_t root = steiner_none;
  for (uint32_t v = 0; v < p.nodes(); ++v) {
    if (p.terminal[v] && root == steiner_none) root = sets.find(v);
    if (p.terminal[v]) CHECK(sets.find(v) == root);
    if (!p.terminal[v]) CHECK(degree[v] != 1);
  }
}

// A connected graph: a random tree and some more edges.
SteinerProblem random_problem(std::mt19937& random, uint32_t nodes, size_t edges, int64_t most_cost) {
  const auto below = [&](uint32_t n) { return static_cast<uint32_t>(random() % n); };
  SteinerProblem p;
  p.terminal.assign(nodes, 0);
  for (uint32_t v = 0; v < nodes; ++v) p.terminal[v] = below(5) < 2;
  p.terminal[0] = 1;
  const auto cost = [&] { return static_cast<int64_t>(random() % static_cast<uint64_t>(most_cost + 1)); };
  for (uint32_t v = 1; v < nodes; ++v) p.edges.push_back({below(v), v, cost()});
  while (p.edges.size() < edges) {
    const uint32_t a = below(nodes), b = below(nodes);
    if (a != b) p.edges.push_back({a, b, cost()});
  }
  return p;
}

SteinerProblem problem(size_t nodes, std::vector<uint32_t> terminals, std::vector<SteinerEdge> edges) {
  SteinerProblem p{std::move(edges), std::vector<uint8_t>(nodes, 0)};
  for (uint32_t t : terminals) p.terminal[t] = 1;
  return p;
}

}  // namespace

TEST_CASE("small random graphs: bound <= optimum <= tree, in fact the optimum; reductions keep it") {
  std::mt19937 random(7);
  int proven = 0;
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    const SteinerProblem p =
        random_problem(random, 4 + static_cast<uint32_t>(round % 6), 13, round % 2 ? 4 : 50);
    const int64_t optimum = by_enumeration(p);
    const SteinerAnswer a = steiner_solve(p, {});
    check_tree(p, a.tree);
    CHECK(a.bound <= optimum);
    CHECK(a.tree.cost == optimum);
    proven += a.bound == optimum;
    SteinerReduction degrees(p), all(p);
    degrees.reduce_degrees();
    all.reduce();
    for (SteinerReduction* r : {&degrees, &all})
      if (r->problem().edges.size() <= 14) {
        const SteinerProblem small = r->problem();
        const bool any = std::count(small.terminal.begin(), small.terminal.end(), 1) > 1;
        CHECK(r->fixed() + (any ? by_enumeration(small) : 0) == optimum);
      }
  }
  CHECK(proven > 250);
}

TEST_CASE("what is known of four small graphs") {
  // Three terminals round a middle: 33, which dual ascent proves.
  const auto star =
      problem(4, {0, 1, 2}, {{0, 1, 20}, {0, 2, 20}, {1, 2, 20}, {0, 3, 11}, {1, 3, 11}, {2, 3, 11}});
  CHECK(steiner_solve(star, {}).tree.cost == 33);
  CHECK(steiner_solve(star, {}).bound == 33);
  // The directed cut relaxation is 4.5, so no ascent proves 5.
  const auto hard = problem(7, {0, 1, 2, 3},
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
                             {3, 4, 2}});
  CHECK(steiner_solve(hard, {}).tree.cost == 5);
  const std::vector<uint32_t> root{0};
  CHECK(steiner_ascent(steiner_graph(7, hard.edges), hard.terminal, root).bound <= 4);
  const auto third = problem(
      7, {0, 1, 2, 3},
      {{0, 4, 2}, {0, 5, 2}, {1, 4, 3}, {1, 5, 3}, {2, 4, 2}, {2, 6, 3}, {3, 5, 2}, {3, 6, 2}, {4, 5, 2}});
  CHECK(steiner_solve(third, {}).tree.cost == 11);
  // A street with two sides: min(300 + 2x, 400 + x) at a crossing's price x.
  for (const auto& [x, optimum] : {std::pair(40, 380), {100, 500}, {160, 560}, {250, 650}, {400, 800}}) {
    std::vector<SteinerEdge> edges;
    for (uint32_t i = 0; i < 3; ++i) edges.push_back({i, i + 1, 100}), edges.push_back({i + 4, i + 5, 100});
    for (uint32_t i = 0; i < 4; ++i) edges.push_back({i, i + 4, x});
    const SteinerAnswer a = steiner_solve(problem(8, {0, 1, 2, 5, 6, 7}, edges), {});
    CHECK(a.tree.cost == optimum);
    CHECK(a.bound == optimum);
  }
}

TEST_CASE("one terminal costs nothing; two are joined by the shortest path; edges below 0 are none") {
  const SteinerAnswer none = steiner_solve(problem(3, {1}, {{0, 1, 4}, {1, 2, 4}}), {});
  CHECK(none.tree.edges.empty());
  CHECK(none.bound == 0);
  const SteinerAnswer two =
      steiner_solve(problem(3, {0, 2}, {{0, 2, 9}, {0, 1, 4}, {1, 2, 4}, {0, 2, -1}}), {});
  CHECK(two.tree.cost == 8);
  CHECK(two.bound == 8);
  CHECK(two.tree.edges == std::vector<uint32_t>{1, 2});
}

TEST_CASE("costs times 1000 and edges in another order: the same value and bound; steps repeat a run") {
  std::mt19937 random(11);
  for (int round = 0; round < 6; ++round) {
    const SteinerProblem p = random_problem(random, 300, 520, 1000);
    const SteinerAnswer a = steiner_solve(p, {SteinerEffort::quick, 20, {}});
    check_tree(p, a.tree);
    SteinerProblem other = p;
    std::shuffle(other.edges.begin(), other.edges.end(), random);
    const SteinerAnswer b = steiner_solve(other, {SteinerEffort::quick, 20, {}});
    CHECK(a.tree.cost == b.tree.cost);
    CHECK(a.bound == b.bound);
    SteinerProblem dear = p;
    for (SteinerEdge& e : dear.edges) e.cost *= 1000;
    const SteinerAnswer c = steiner_solve(dear, {SteinerEffort::quick, 20, {}});
    CHECK(c.tree.cost == a.tree.cost * 1000);
    CHECK(c.bound == a.bound * 1000);
    const SteinerAnswer again = steiner_solve(p, {SteinerEffort::thorough, a.balls, {}});
    CHECK(again.balls <= a.balls);
  }
}

TEST_CASE("single nodes in or out never make a tree dearer, and end where none helps") {
  std::mt19937 random(5);
  for (int round = 0; round < 40; ++round) {
    const SteinerProblem p = random_problem(random, 12, 24, 30);
    const SteinerGraph graph = steiner_graph(p.nodes(), p.edges);
    std::vector<uint8_t> held(p.nodes(), 1);
    const uint32_t root[] = {0};
    SteinerTree tree = pruned(graph, p.terminal, spanning_edges(graph, held, root));
    const int64_t before = tree.cost;
    improve_by_vertices(graph, p.terminal, tree);
    check_tree(p, tree);
    CHECK(tree.cost <= before);
  }
}
