#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "solve/projects_crews.h"

using namespace plan;

namespace {

CrewJob job(uint8_t skill, int64_t duration, bool splittable = true) {
  CrewJob j;
  j.skill = skill;
  j.duration = duration;
  j.splittable = splittable;
  return j;
}

CrewProblem problem(std::vector<CrewJob> jobs, const std::vector<std::vector<uint32_t>>& before,
                    std::vector<uint32_t> crews) {
  CrewProblem p;
  p.jobs = std::move(jobs);
  for (const auto& row : before) {
    std::vector<TaskId> ids;
    for (const uint32_t b : row) ids.push_back(TaskId(b));
    p.before.add(ids);
  }
  p.crew_skills = std::move(crews);
  p.shift = 100;
  return p;
}

// Says what is broken; empty where the plan holds. Shares nothing with the code under test.
std::string fault(const CrewProblem& p, const CrewPlan& plan) {
  for (uint32_t j = 0; j < p.jobs.size(); ++j) {
    const CrewJob& one = p.jobs[j];
    const uint32_t crew = plan.crews[j];
    const int64_t start = plan.starts[j], end = plan.finishes[j];
    for (const TaskId b : p.before[TaskId(j)])
      if (plan.finishes[b.value] > start) return "begun before a predecessor ended";
    if (start < one.release) return "begun before its release";
    if (end > plan.length) return "ends after the plan";
    if (crew == UINT32_MAX) continue;
    if ((p.crew_skills[crew] >> one.skill & 1U) == 0) return "crew without the skill";
    if (end - start != one.duration) return "wrong duration";
    const bool whole = !one.splittable && one.duration <= p.shift && one.duration > 0;
    if (whole && start / p.shift != (end - 1) / p.shift) return "split at a shift's end";
    for (uint32_t k = 0; k < j; ++k) {
      if (plan.crews[k] != crew || one.duration == 0 || p.jobs[k].duration == 0) continue;
      if (plan.starts[k] < end && start < plan.finishes[k]) return "two jobs at a time";
    }
  }
  return {};
}

CrewProblem random_problem(std::mt19937& random, uint32_t n) {
  std::vector<CrewJob> jobs;
  std::vector<std::vector<uint32_t>> before(n);
  for (uint32_t j = 0; j < n; ++j) {
    CrewJob one = job(static_cast<uint8_t>(random() % 3), static_cast<int64_t>(random() % 90));
    one.splittable = random() % 2 == 0;
    one.release = random() % 5 == 0 ? static_cast<int64_t>(random() % 300) : 0;
    one.rank = static_cast<uint32_t>(random() % 4);
    one.place = static_cast<uint32_t>(random() % 5);
    one.travel = static_cast<int64_t>(random() % 10);
    jobs.push_back(one);
    for (uint32_t b = 0; b < j; ++b)
      if (random() % (2 * n) == 0) before[j].push_back(b);
  }
  return problem(std::move(jobs), before, {1, 1 | 2, 4, 2 | 4});
}

}  // namespace

TEST_CASE("one crew does a chain; the next shift begins where the last ended") {
  const CrewProblem p = problem({job(0, 60), job(0, 60), job(0, 30)}, {{}, {0}, {1}}, {1});
  const CrewPlan plan = plan_crews(p);
  CHECK(plan.starts == std::vector<int64_t>{0, 60, 120});
  CHECK(plan.length == 150);
  CHECK(crew_bound(p).critical_path == 150);
  CHECK(crew_bound(p).skill_flow == 150);
}

TEST_CASE("what may not be split waits for the morning, and a shorter job goes before it") {
  const CrewProblem p = problem({job(0, 60, false), job(0, 60, false), job(0, 40, false)}, {{}, {}, {}}, {1});
  const CrewPlan plan = plan_crews(p);
  CHECK(plan.starts == std::vector<int64_t>{0, 100, 60});
  CHECK(plan.length == 160);
}

TEST_CASE("the way to another place counts within a shift and not in the morning") {
  CrewProblem p = problem({job(0, 50), job(0, 50), job(0, 50)}, {{}, {}, {}}, {1});
  p.jobs[1].place = p.jobs[2].place = 1;
  for (CrewJob& j : p.jobs) j.travel = 20;
  CHECK(plan_crews(p).starts == std::vector<int64_t>{0, 70, 120});
  p.jobs[0].duration = 100;
  CHECK(plan_crews(p).starts == std::vector<int64_t>{0, 100, 150});
}

TEST_CASE("earlier ranks go first, then longer tails, then smaller numbers") {
  CrewProblem p = problem({job(0, 10), job(0, 10), job(0, 10), job(1, 50)}, {{}, {}, {}, {2}}, {1, 2});
  CHECK(plan_crews(p).starts == std::vector<int64_t>{10, 20, 0, 10});
  p.jobs[2].rank = 1;
  CHECK(plan_crews(p).starts == std::vector<int64_t>{0, 10, 20, 30});
}

TEST_CASE("a job that no crew can do is passed, and a job longer than a shift is split") {
  const CrewProblem p = problem({job(5, 40), job(0, 250, false)}, {{}, {0}}, {1});
  const CrewPlan plan = plan_crews(p);
  CHECK(plan.crews == std::vector<uint32_t>{UINT32_MAX, 0});
  CHECK(plan.finishes == std::vector<int64_t>{0, 250});
}

TEST_CASE("random problems: every plan holds and none is shorter than its bound") {
  std::mt19937 random(3);
  for (int round = 0; round < 200; ++round) {
    const CrewProblem p = random_problem(random, 40);
    const CrewPlan plan = plan_crews(p);
    CHECK(fault(p, plan) == "");
    const CrewBound bound = crew_bound(p);
    CHECK(bound.critical_path <= plan.length);
    CHECK(bound.skill_flow <= plan.length);
  }
}

TEST_CASE("the checker of this file sees what it is there for") {
  std::mt19937 random(5);
  const CrewProblem p = random_problem(random, 40);
  CrewPlan plan = plan_crews(p);
  const auto longest = static_cast<size_t>(
      std::max_element(p.jobs.begin(), p.jobs.end(),
                       [](const CrewJob& a, const CrewJob& b) { return a.duration < b.duration; }) -
      p.jobs.begin());
  CrewPlan other = plan;
  other.crews[longest] = p.jobs[longest].skill == 0 ? 2 : 0;
  CHECK(fault(p, other) != "");
  other = plan;
  other.starts.assign(p.jobs.size(), 0);
  CHECK(fault(p, other) != "");
}
