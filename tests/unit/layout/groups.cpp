#include "layout/groups.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace plan;

namespace {

// A tree of streets with the headend at node 0, spans of 1 to 20 m, and members anywhere on it.
struct Case {
  Network network;
  Basis basis;
  std::vector<GroupMember> members;
  std::vector<std::vector<int64_t>> far;  // mm, all pairs
};

Case tree(std::mt19937& random, uint32_t nodes) {
  Case c;
  for (uint32_t i = 0; i < nodes; ++i) {
    c.network.at.add({i, 0});
    c.network.kinds.add(i == 0 ? NodeKind::headend : NodeKind::street);
    // Every node wants to be in the forest.
    c.network.premises_nodes.add(NodeId(i));
    c.basis.needs.add({true, false, 1, 1, {}, {}});
  }
  c.network.headend_nodes.add(NodeId(0u));
  c.far.assign(nodes, std::vector<int64_t>(nodes, 0));
  for (uint32_t i = 1; i < nodes; ++i) {
    const uint32_t up = static_cast<uint32_t>(random()) % i;
    const int64_t mm = 1 + static_cast<int64_t>(random() % 20);
    c.network.spans.add({NodeId(up), NodeId(i), whole_millimetres(mm), {}, {}, SpanKind::street, false});
    c.basis.open_cost.add({mm});
    c.basis.lay_cost.add({0});
    c.basis.usable.add(1);
    for (uint32_t j = 0; j < i; ++j) c.far[i][j] = c.far[j][i] = c.far[up][j] + mm;
  }
  return c;
}

}  // namespace

// Trying every node is the oracle: one group exactly if some allowed node is in reach of all.
TEST_CASE("members share a group exactly if an allowed node is in reach of all: 2,000 random trees") {
  std::mt19937 random(5);
  int together = 0, apart = 0;
  for (int round = 0; round < 2000; ++round) {
    const uint32_t nodes = 2 + static_cast<uint32_t>(random() % 30);
    Case c = tree(random, nodes);
    const TrenchForest forest = trench_forest(c.network, c.basis, Table<SpanId, uint8_t>(nodes - 1, 1));
    Table<NodeId, uint8_t> allowed(nodes);
    for (NodeId n : allowed.ids()) allowed[n] = random() % 3 == 0;
    allowed[NodeId(static_cast<uint32_t>(random()) % nodes)] = 1;
    const StationPlaces places(forest, allowed, 1 + static_cast<size_t>(round % 3));

    const auto nearest = [&](NodeId from) {
      int64_t best = INT64_MAX;
      for (NodeId n : allowed.ids())
        if (allowed[n]) best = std::min(best, c.far[from.value][n.value]);
      return best;
    };
    for (NodeId n : allowed.ids()) CHECK(places.nearest(n) == nearest(n));

    for (uint32_t i = 1 + static_cast<uint32_t>(random() % 5); i-- > 0;) {
      const NodeId n(static_cast<uint32_t>(random()) % nodes);
      c.members.push_back({n, 1, nearest(n) + static_cast<int64_t>(random() % 40)});
    }
    bool shared = false;
    for (NodeId n : allowed.ids())
      shared |= allowed[n] && std::all_of(c.members.begin(), c.members.end(), [&](const GroupMember& m) {
                  return c.far[m.node.value][n.value] <= m.reach;
                });
    const auto groups = cut_into_groups(forest, places, c.members, {1000, 1000});
    CAPTURE(round);
    CHECK((groups.size() == 1) == shared);
    ++(shared ? together : apart);
    for (const StationGroup& g : groups) {
      bool one = false;
      for (NodeId n : allowed.ids())
        one |= allowed[n] && std::all_of(g.members.begin(), g.members.end(), [&](uint32_t m) {
                 return c.far[c.members[m].node.value][n.value] <= c.members[m].reach;
               });
      CHECK(one);
    }
  }
  CHECK(together > 300);
  CHECK(apart > 300);
}

TEST_CASE("the nearest places of a node, in order of distance then id") {
  std::mt19937 random(9);
  for (int round = 0; round < 200; ++round) {
    const uint32_t nodes = 2 + static_cast<uint32_t>(random() % 25);
    const Case c = tree(random, nodes);
    const TrenchForest forest = trench_forest(c.network, c.basis, Table<SpanId, uint8_t>(nodes - 1, 1));
    Table<NodeId, uint8_t> allowed(nodes);
    for (NodeId n : allowed.ids()) allowed[n] = random() % 2 == 0;
    const StationPlaces places(forest, allowed, 4);
    for (NodeId n : allowed.ids()) {
      std::vector<std::pair<int64_t, NodeId>> sorted;
      for (NodeId m : allowed.ids())
        if (allowed[m]) sorted.emplace_back(c.far[n.value][m.value], m);
      std::sort(sorted.begin(), sorted.end());
      const auto near = places.near(n);
      REQUIRE(near.size() == 4);
      for (size_t i = 0; i < 4; ++i) {
        CHECK(near[i].node == (i < sorted.size() ? sorted[i].second : NodeId()));
        if (i < sorted.size()) CHECK(near[i].distance == sorted[i].first);
      }
    }
  }
}

TEST_CASE("a chain of 300,000 nodes and a star of 100,000 branches are cut without trouble") {
  for (const bool star : {false, true}) {
    Case c;
    const uint32_t nodes = star ? 100'001 : 300'001;
    for (uint32_t i = 0; i < nodes; ++i) {
      c.network.at.add({i, 0});
      c.network.kinds.add(i == 0 ? NodeKind::headend : NodeKind::street);
      c.network.premises_nodes.add(NodeId(i));
      c.basis.needs.add({true, false, 1, 1, {}, {}});
      if (i == 0) continue;
      c.network.spans.add({NodeId(star ? 0 : i - 1), NodeId(i), metres(1), {}, {}, SpanKind::street, false});
      c.basis.open_cost.add({1});
      c.basis.lay_cost.add({0});
      c.members.push_back({NodeId(i), 1, 30'000});
    }
    c.network.headend_nodes.add(NodeId(0u));
    const TrenchForest forest = trench_forest(c.network, c.basis, Table<SpanId, uint8_t>(nodes - 1, 1));
    Table<NodeId, uint8_t> allowed(nodes, 1);
    const StationPlaces places(forest, allowed, 1);
    const auto groups = cut_into_groups(forest, places, c.members, {50, 1000});
    CHECK(groups.size() == (nodes - 1) / 50);
  }
}
