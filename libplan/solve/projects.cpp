#include "solve/projects.h"

#include <algorithm>
#include <bit>
#include <numeric>
#include <queue>
#include <set>

#include "base/check.h"

namespace plan {
namespace {

std::vector<uint32_t> predecessor_counts(const Project& p) {
  std::vector<uint32_t> n(p.durations.size(), 0);
  for (const auto& row : p.successors)
    for (const uint32_t s : row) ++n[s];
  return n;
}

std::vector<uint32_t> topological_order(const Project& p) {
  std::vector<uint32_t> left = predecessor_counts(p), order;
  for (uint32_t j = 0; j < left.size(); ++j)
    if (left[j] == 0) order.push_back(j);
  for (size_t i = 0; i < order.size(); ++i)
    for (const uint32_t s : p.successors[order[i]])
      if (--left[s] == 0) order.push_back(s);
  PLAN_CHECK(order.size() == p.durations.size());
  return order;
}

// Free units of every resource by unit of time.
class Profile {
 public:
  explicit Profile(const Project& p) : p_(p) {}
  int64_t earliest(uint32_t job, int64_t from) {
    int64_t start = from;
    for (int64_t t = from; t < start + p_.durations[job]; ++t)
      if (!fits(job, t)) start = t + 1;
    return start;
  }
  void take(uint32_t job, int64_t start) {
    for (int64_t t = start; t < start + p_.durations[job]; ++t) {
      reach(t);
      for (size_t k = 0; k < p_.capacities.size(); ++k)
        free_[static_cast<size_t>(t)][k] -= p_.demands[job * p_.capacities.size() + k];
    }
  }

 private:
  void reach(int64_t t) {
    while (static_cast<int64_t>(free_.size()) <= t) free_.push_back(p_.capacities);
  }
  bool fits(uint32_t job, int64_t t) {
    reach(t);
    for (size_t k = 0; k < p_.capacities.size(); ++k)
      if (p_.demands[job * p_.capacities.size() + k] > free_[static_cast<size_t>(t)][k]) return false;
    return true;
  }
  const Project& p_;
  std::vector<std::vector<int64_t>> free_;
};

using Key = std::pair<int64_t, uint32_t>;  // latest finish, job

void finish(const Project& p, ProjectPlan& plan) {
  for (size_t j = 0; j < plan.starts.size(); ++j)
    plan.length = std::max(plan.length, plan.starts[j] + p.durations[j]);
}

bool fits_now(const Project& p, uint32_t job, const std::vector<int64_t>& free) {
  for (size_t k = 0; k < free.size(); ++k)
    if (p.demands[job * free.size() + k] > free[k]) return false;
  return true;
}

void shift_free(const Project& p, uint32_t job, int64_t sign, std::vector<int64_t>& free) {
  for (size_t k = 0; k < free.size(); ++k) free[k] += sign * p.demands[job * free.size() + k];
}

int64_t divided_up(int64_t a, int64_t b) {
  return (a + b - 1) / b;
}

}  // namespace

HeadsAndTails heads_and_tails(const Project& p) {
  const std::vector<uint32_t> order = topological_order(p);
  HeadsAndTails out;
  out.heads.assign(order.size(), 0);
  out.tails.assign(order.size(), 0);
  for (const uint32_t j : order) {
    const int64_t end = out.heads[j] + p.durations[j];
    out.critical_path = std::max(out.critical_path, end);
    for (const uint32_t s : p.successors[j]) out.heads[s] = std::max(out.heads[s], end);
  }
  for (auto j = order.rbegin(); j != order.rend(); ++j)
    for (const uint32_t s : p.successors[*j])
      out.tails[*j] = std::max(out.tails[*j], p.durations[s] + out.tails[s]);
  return out;
}

ProjectPlan serial_by_latest_finish(const Project& p) {
  const HeadsAndTails ht = heads_and_tails(p);
  std::vector<uint32_t> left = predecessor_counts(p);
  std::vector<int64_t> ready(left.size(), 0);
  std::priority_queue<Key, std::vector<Key>, std::greater<>> open;
  const auto offer = [&](uint32_t j) { open.emplace(ht.critical_path - ht.tails[j], j); };
  for (uint32_t j = 0; j < left.size(); ++j)
    if (left[j] == 0) offer(j);
  ProjectPlan plan;
  plan.starts.assign(left.size(), 0);
  Profile profile(p);
  while (!open.empty()) {
    const uint32_t j = open.top().second;
    open.pop();
    plan.starts[j] = profile.earliest(j, ready[j]);
    profile.take(j, plan.starts[j]);
    for (const uint32_t s : p.successors[j]) {
      ready[s] = std::max(ready[s], plan.starts[j] + p.durations[j]);
      if (--left[s] == 0) offer(s);
    }
  }
  finish(p, plan);
  return plan;
}

ProjectPlan parallel_by_latest_finish(const Project& p) {
  const HeadsAndTails ht = heads_and_tails(p);
  std::vector<uint32_t> left = predecessor_counts(p);
  std::vector<int64_t> free = p.capacities;
  std::set<Key> open;
  std::priority_queue<Key, std::vector<Key>, std::greater<>> running;  // finish, job
  const auto offer = [&](uint32_t j) { open.emplace(ht.critical_path - ht.tails[j], j); };
  for (uint32_t j = 0; j < left.size(); ++j)
    if (left[j] == 0) offer(j);
  ProjectPlan plan;
  plan.starts.assign(left.size(), 0);
  int64_t now = 0;
  const auto end = [&](uint32_t j) {
    for (const uint32_t s : p.successors[j])
      if (--left[s] == 0) offer(s);
  };
  while (!open.empty() || !running.empty()) {
    for (auto it = open.begin(); it != open.end();) {
      const uint32_t j = it->second;
      if (!fits_now(p, j, free)) {
        ++it;
        continue;
      }
      open.erase(it);
      plan.starts[j] = now;
      if (p.durations[j] == 0) {
        end(j);
      } else {
        shift_free(p, j, -1, free);
        running.emplace(now + p.durations[j], j);
      }
      it = open.begin();
    }
    PLAN_CHECK(open.empty() || !running.empty());
    if (running.empty()) break;
    now = running.top().first;
    for (; !running.empty() && running.top().first == now; running.pop()) {
      shift_free(p, running.top().second, 1, free);
      end(running.top().second);
    }
  }
  finish(p, plan);
  return plan;
}

int64_t head_tail_energy_bound(const Project& p) {
  const HeadsAndTails ht = heads_and_tails(p);
  int64_t best = ht.critical_path;
  const size_t n = p.durations.size(), resources = p.capacities.size();
  std::vector<uint32_t> by_tail(n);
  std::iota(by_tail.begin(), by_tail.end(), 0U);
  std::stable_sort(by_tail.begin(), by_tail.end(),
                   [&](uint32_t a, uint32_t b) { return ht.tails[a] > ht.tails[b]; });
  std::vector<int64_t> thresholds = ht.heads;
  std::sort(thresholds.begin(), thresholds.end());
  thresholds.erase(std::unique(thresholds.begin(), thresholds.end()), thresholds.end());
  for (size_t k = 0; k < resources; ++k)
    for (const int64_t a : thresholds) {
      int64_t energy = 0;
      for (const uint32_t j : by_tail) {
        if (ht.heads[j] < a) continue;
        energy += p.durations[j] * p.demands[j * resources + k];
        if (energy > 0) best = std::max(best, a + ht.tails[j] + divided_up(energy, p.capacities[k]));
      }
    }
  return best;
}

SkillBound skill_flow_bound(std::span<const SkillWork> work, std::span<const uint32_t> crew_skills) {
  PLAN_CHECK(work.size() <= 16);
  SkillBound best;
  uint32_t held = 0;
  for (const uint32_t c : crew_skills) held |= c;
  for (uint32_t set = 1; set < (1U << work.size()); ++set) {
    if ((set & ~held) != 0) continue;
    SkillWork sum{0, INT64_MAX, INT64_MAX};
    bool all = true;
    for (size_t k = 0; k < work.size(); ++k) {
      if ((set >> k & 1U) == 0) continue;
      all = all && work[k].work > 0;
      sum = {sum.work + work[k].work, std::min(sum.head, work[k].head), std::min(sum.tail, work[k].tail)};
    }
    if (!all) continue;
    const auto able =
        std::count_if(crew_skills.begin(), crew_skills.end(), [&](uint32_t c) { return (c & set) != 0; });
    const int64_t length = sum.head + divided_up(sum.work, able) + sum.tail;
    const bool fewer = length == best.length && std::popcount(set) < std::popcount(best.skills);
    if (length > best.length || fewer) best = {length, set};
  }
  return best;
}

}  // namespace plan
