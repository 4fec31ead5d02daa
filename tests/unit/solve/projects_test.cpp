#include "solve/projects.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "base/check.h"

using namespace plan;

namespace {

// Independent of the code under test: precedence and demand at every unit of time.
bool holds(const Project& p, const ProjectPlan& plan) {
  const size_t resources = p.capacities.size();
  for (size_t j = 0; j < p.durations.size(); ++j) {
    if (plan.starts[j] < 0 || plan.starts[j] + p.durations[j] > plan.length) return false;
    for (const uint32_t s : p.successors[j])
      if (plan.starts[s] < plan.starts[j] + p.durations[j]) return false;
  }
  for (int64_t t = 0; t < plan.length; ++t)
    for (size_t k = 0; k < resources; ++k) {
      int64_t used = 0;
      for (size_t j = 0; j < p.durations.size(); ++j)
        if (plan.starts[j] <= t && t < plan.starts[j] + p.durations[j]) used += p.demands[j * resources + k];
      if (used > p.capacities[k]) return false;
    }
  return true;
}

// Shortest plan by trying every list of jobs through the serial rule's placement, done anew here.
int64_t shortest(const Project& p) {
  std::vector<uint32_t> order(p.durations.size());
  for (uint32_t j = 0; j < order.size(); ++j) order[j] = j;
  int64_t best = INT64_MAX;
  do {
    ProjectPlan plan;
    plan.starts.assign(order.size(), -1);
    bool possible = true;
    for (const uint32_t j : order) {
      int64_t from = 0;
      for (uint32_t b = 0; b < p.durations.size(); ++b)
        for (const uint32_t s : p.successors[b])
          if (s == j) {
            if (plan.starts[b] < 0) possible = false;
            from = std::max(from, plan.starts[b] + p.durations[b]);
          }
      if (!possible) break;
      Project some = p;
      for (plan.starts[j] = from;; ++plan.starts[j]) {
        plan.length = 0;
        for (uint32_t i = 0; i < order.size(); ++i) {
          some.durations[i] = plan.starts[i] < 0 ? 0 : p.durations[i];
          if (plan.starts[i] >= 0) plan.length = std::max(plan.length, plan.starts[i] + p.durations[i]);
        }
        ProjectPlan shown = plan;
        for (int64_t& s : shown.starts) s = std::max<int64_t>(s, 0);
        Project loose = some;
        for (auto& row : loose.successors) row.clear();
        if (holds(loose, shown)) break;
      }
    }
    if (possible) best = std::min(best, plan.length);
  } while (std::next_permutation(order.begin(), order.end()));
  return best;
}

Project random_project(std::mt19937& random, uint32_t n) {
  Project p;
  p.capacities = {3, 2};
  p.successors.resize(n);
  for (uint32_t j = 0; j < n; ++j) {
    p.durations.push_back(static_cast<int64_t>(random() % 5));
    p.demands.push_back(static_cast<int64_t>(random() % 4));
    p.demands.push_back(static_cast<int64_t>(random() % 3));
    for (uint32_t s = j + 1; s < n; ++s)
      if (random() % 4 == 0) p.successors[j].push_back(s);
  }
  return p;
}

}  // namespace

TEST_CASE("three tasks with heads and tails: the energy bound counts what lies before and after") {
  // Derived: capacity 2, three tasks with head 5, duration 4, demand 1, tail 4: 5 + 4 + 12/2 = 15, optimum
  // 17 by enumeration. Heads and tails are jobs without demand.
  Project p;
  p.capacities = {2};
  for (int i = 0; i < 3; ++i) {
    p.durations.insert(p.durations.end(), {5, 4, 4});
    p.demands.insert(p.demands.end(), {0, 1, 0});
    const auto first = static_cast<uint32_t>(3 * i);
    p.successors.insert(p.successors.end(), {{first + 1}, {first + 2}, {}});
  }
  CHECK(heads_and_tails(p).critical_path == 13);
  CHECK(head_tail_energy_bound(p) == 15);
  CHECK(parallel_by_latest_finish(p).length == 17);
  CHECK(serial_by_latest_finish(p).length == 17);
}

TEST_CASE("skill flow: the binding set is the min cut") {
  // Derived min cuts: crews A {dig}, B {dig, splice}.
  const uint32_t dig = 1, splice = 2;
  const std::vector<uint32_t> crews{dig, dig | splice};
  const std::vector<SkillWork> more_digging{{300, 0, 0}, {100, 0, 0}},
      more_splicing{{100, 0, 0}, {300, 0, 0}};
  CHECK(skill_flow_bound(more_digging, crews) == SkillBound{200, dig | splice});
  CHECK(skill_flow_bound(more_splicing, crews) == SkillBound{300, splice});
  const std::vector<SkillWork> later{{100, 50, 20}, {0, 0, 0}};
  CHECK(skill_flow_bound(later, crews) == SkillBound{50 + 50 + 20, dig});
  CHECK(skill_flow_bound(more_digging, std::vector<uint32_t>{splice}) == SkillBound{100, splice});
}

TEST_CASE("random projects: plans hold, bounds stay below the shortest plan") {
  std::mt19937 random(11);
  for (int round = 0; round < 60; ++round) {
    const Project p = random_project(random, 5);
    const ProjectPlan serial = serial_by_latest_finish(p), parallel = parallel_by_latest_finish(p);
    CHECK(holds(p, serial));
    CHECK(holds(p, parallel));
    const int64_t best = shortest(p), bound = head_tail_energy_bound(p);
    CHECK(heads_and_tails(p).critical_path <= bound);
    CHECK(bound <= best);
    CHECK(best <= std::min(serial.length, parallel.length));
  }
  for (int round = 0; round < 40; ++round) {
    const Project p = random_project(random, 40);
    CHECK(holds(p, serial_by_latest_finish(p)));
    CHECK(holds(p, parallel_by_latest_finish(p)));
    CHECK(head_tail_energy_bound(p) <= parallel_by_latest_finish(p).length);
  }
}

TEST_CASE("a cycle is a bug of the caller") {
  Project p;
  p.capacities = {1};
  p.durations = {1, 1};
  p.demands = {1, 1};
  p.successors = {{1}, {0}};
  CHECK_THROWS_AS(heads_and_tails(p), BrokenInvariant);
}
