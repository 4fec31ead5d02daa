#include "solve/projects_crews.h"

#include <algorithm>
#include <optional>
#include <queue>
#include <tuple>

#include "base/check.h"
#include "solve/projects.h"

namespace plan {
namespace {

constexpr size_t skills = 16;
constexpr size_t looked_at = 16;  // ready jobs of one skill that are tried for one that fits

Lists<TaskId, TaskId> reversed(const Lists<TaskId, TaskId>& before) {
  std::vector<size_t> first(before.size() + 1, 0);
  for (const TaskId j : before.ids())
    for (const TaskId b : before[j]) ++first[b.value + 1];
  for (size_t i = 0; i < before.size(); ++i) first[i + 1] += first[i];
  std::vector<TaskId> values(before.values());
  std::vector<size_t> at(first.begin(), first.end() - 1);
  for (const TaskId j : before.ids())
    for (const TaskId b : before[j]) values[at[b.value]++] = j;
  Lists<TaskId, TaskId> after;
  for (size_t i = 0; i < before.size(); ++i)
    after.add(std::span<const TaskId>(values).subspan(first[i], first[i + 1] - first[i]));
  return after;
}

std::vector<uint32_t> topological_order(const Lists<TaskId, TaskId>& before,
                                        const Lists<TaskId, TaskId>& after) {
  std::vector<uint32_t> left(before.size()), order;
  order.reserve(before.size());
  for (const TaskId j : before.ids()) {
    left[j.value] = static_cast<uint32_t>(before[j].size());
    if (left[j.value] == 0) order.push_back(j.value);
  }
  for (size_t i = 0; i < order.size(); ++i)
    for (const TaskId s : after[TaskId(order[i])])
      if (--left[s.value] == 0) order.push_back(s.value);
  PLAN_CHECK(order.size() == before.size());
  return order;
}

// A job without a capable crew takes no time.
class Jobs {
 public:
  explicit Jobs(const CrewProblem& p) : p_(p), after_(reversed(p.before)) {
    PLAN_CHECK(p.shift > 0 && p.before.size() == p.jobs.size());
    for (const uint32_t c : p.crew_skills) held_ |= c;
    order_ = topological_order(p.before, after_);
    tails_.assign(p.jobs.size(), 0);
    for (auto j = order_.rbegin(); j != order_.rend(); ++j)
      for (const TaskId s : after_[TaskId(*j)])
        tails_[*j] = std::max(tails_[*j], duration(s.value) + tails_[s.value]);
  }
  bool has_crew(uint32_t j) const { return (held_ >> p_.jobs[j].skill & 1U) != 0; }
  int64_t duration(uint32_t j) const { return has_crew(j) ? p_.jobs[j].duration : 0; }
  bool whole(uint32_t j) const { return !p_.jobs[j].splittable && p_.jobs[j].duration <= p_.shift; }
  std::span<const TaskId> after(uint32_t j) const { return after_[TaskId(j)]; }
  const std::vector<uint32_t>& order() const { return order_; }
  int64_t tail(uint32_t j) const { return tails_[j]; }

 private:
  const CrewProblem& p_;
  Lists<TaskId, TaskId> after_;
  std::vector<uint32_t> order_;
  std::vector<int64_t> tails_;
  uint32_t held_ = 0;
};

using Key = std::tuple<uint32_t, int64_t, uint32_t>;  // rank, -tail, job
using Ready = std::priority_queue<Key, std::vector<Key>, std::greater<>>;
using At = std::pair<int64_t, uint32_t>;  // time, job or crew
using Queue = std::priority_queue<At, std::vector<At>, std::greater<>>;

class Simulation {
 public:
  explicit Simulation(const CrewProblem& p)
      : p_(p), jobs_(p), left_(p.jobs.size()), crews_(p.crew_skills.size()), ready_(skills) {
    plan_.starts.assign(p.jobs.size(), 0);
    plan_.finishes.assign(p.jobs.size(), 0);
    plan_.crews.assign(p.jobs.size(), UINT32_MAX);
  }

  CrewPlan take() {
    for (const TaskId j : p_.before.ids()) {
      left_[j.value] = static_cast<uint32_t>(p_.before[j].size());
      if (left_[j.value] == 0) released_.emplace(p_.jobs[j.value].release, j.value);
    }
    while (next_time()) {
      while (!finished_.empty() && finished_.top().first <= now_) finish();
      while (!released_.empty() && released_.top().first <= now_) release();
      if (!finished_.empty() && finished_.top().first <= now_) continue;
      for (; !waking_.empty() && waking_.top().first <= now_; waking_.pop())
        crews_[waking_.top().second].asleep = false;
      send_crews();
    }
    return std::move(plan_);
  }

 private:
  struct CrewState {
    bool busy = false, asleep = false;
    int64_t last_finish = -1;
    uint32_t place = UINT32_MAX;
  };

  bool next_time() {
    int64_t t = INT64_MAX;
    for (const Queue* q : {&finished_, &released_, &waking_})
      if (!q->empty()) t = std::min(t, q->top().first);
    if (t == INT64_MAX) return false;
    now_ = std::max(now_, t);
    return true;
  }

  void finish() {
    const uint32_t j = finished_.top().second;
    finished_.pop();
    if (plan_.crews[j] != UINT32_MAX) crews_[plan_.crews[j]].busy = false;
    for (const TaskId s : jobs_.after(j))
      if (--left_[s.value] == 0) released_.emplace(std::max(now_, p_.jobs[s.value].release), s.value);
  }

  void release() {
    const uint32_t j = released_.top().second;
    released_.pop();
    if (!jobs_.has_crew(j)) {
      plan_.starts[j] = plan_.finishes[j] = now_;
      plan_.length = std::max(plan_.length, now_);
      finished_.emplace(now_, j);
      return;
    }
    const uint8_t skill = p_.jobs[j].skill;
    ready_[skill].emplace(p_.jobs[j].rank, -jobs_.tail(j), j);
    ready_skills_ |= 1U << skill;
  }

  void send_crews() {
    for (uint32_t c = 0; c < crews_.size() && ready_skills_ != 0; ++c)
      if (!crews_[c].busy && !crews_[c].asleep && (p_.crew_skills[c] & ready_skills_) != 0) send(c);
  }

  void send(uint32_t c) {
    std::optional<Key> best;
    size_t from = 0;
    for (size_t k = 0; k < skills; ++k) {
      if ((p_.crew_skills[c] >> k & 1U) == 0 || ready_[k].empty()) continue;
      if (best && ready_[k].top() > *best) continue;
      const std::optional<Key> key = first_that_fits(c, ready_[k]);
      if (key && (!best || *key < *best)) best = key, from = k;
    }
    if (!best) return sleep_until_morning(c);
    take_out(ready_[from], *best);
    if (ready_[from].empty()) ready_skills_ &= ~(1U << from);
    start(c, std::get<2>(*best));
  }

  std::optional<Key> first_that_fits(uint32_t c, Ready& ready) {
    std::optional<Key> found;
    aside_.clear();
    while (!ready.empty() && !found && aside_.size() < looked_at) {
      if (fits(c, std::get<2>(ready.top()))) {
        found = ready.top();
      } else {
        aside_.push_back(ready.top());
        ready.pop();
      }
    }
    for (const Key& k : aside_) ready.push(k);
    return found;
  }

  void take_out(Ready& ready, const Key& key) {
    aside_.clear();
    for (; ready.top() != key; ready.pop()) aside_.push_back(ready.top());
    ready.pop();
    for (const Key& k : aside_) ready.push(k);
  }

  int64_t morning_after(int64_t t) const { return (t / p_.shift + 1) * p_.shift; }

  int64_t begin(uint32_t c, uint32_t j) const {
    const bool worked_today = crews_[c].last_finish > now_ / p_.shift * p_.shift;
    const bool moves = worked_today && crews_[c].place != p_.jobs[j].place;
    return now_ + (moves ? p_.jobs[j].travel : 0);
  }

  bool fits(uint32_t c, uint32_t j) const {
    const int64_t needed = jobs_.whole(j) ? p_.jobs[j].duration : std::min<int64_t>(1, p_.jobs[j].duration);
    return begin(c, j) + needed <= morning_after(now_);
  }

  void sleep_until_morning(uint32_t c) {
    crews_[c].asleep = true;
    waking_.emplace(morning_after(now_), c);
  }

  void start(uint32_t c, uint32_t j) {
    plan_.starts[j] = begin(c, j);
    plan_.finishes[j] = plan_.starts[j] + p_.jobs[j].duration;
    plan_.crews[j] = c;
    plan_.length = std::max(plan_.length, plan_.finishes[j]);
    crews_[c] = {true, false, plan_.finishes[j], p_.jobs[j].place};
    finished_.emplace(plan_.finishes[j], j);
  }

  const CrewProblem& p_;
  Jobs jobs_;
  CrewPlan plan_;
  std::vector<uint32_t> left_;
  std::vector<CrewState> crews_;
  std::vector<Ready> ready_;
  std::vector<Key> aside_;
  uint32_t ready_skills_ = 0;
  Queue finished_, released_, waking_;
  int64_t now_ = 0;
};

}  // namespace

CrewPlan plan_crews(const CrewProblem& problem) {
  return Simulation(problem).take();
}

CrewBound crew_bound(const CrewProblem& p) {
  const Jobs jobs(p);
  CrewBound out;
  std::vector<int64_t> heads(p.jobs.size(), 0);
  std::vector<SkillWork> work(skills, SkillWork{0, INT64_MAX, INT64_MAX});
  for (const uint32_t j : jobs.order()) {
    int64_t& head = heads[j] = std::max(heads[j], p.jobs[j].release);
    const int64_t duration = jobs.duration(j), morning = (head / p.shift + 1) * p.shift;
    if (duration > 0 && jobs.whole(j) && head + duration > morning) head = morning;
    out.critical_path = std::max(out.critical_path, head + duration);
    for (const TaskId s : jobs.after(j)) heads[s.value] = std::max(heads[s.value], head + duration);
    SkillWork& w = work[p.jobs[j].skill];
    if (duration > 0) w = {w.work + duration, std::min(w.head, head), std::min(w.tail, jobs.tail(j))};
  }
  const SkillBound bound = skill_flow_bound(work, p.crew_skills);
  out.skill_flow = bound.length;
  out.skills = bound.skills;
  return out;
}

}  // namespace plan
