#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <map>

#include "audit/checks.h"

namespace plan {
namespace {

constexpr size_t task_kinds = static_cast<size_t>(TaskKind::connect) + 1;

bool may_pause(TaskKind k) {
  return k != TaskKind::prove && k != TaskKind::blow && k != TaskKind::splice && k != TaskKind::test &&
         k != TaskKind::connect;
}

// The work that must have come before each kind of task, directly.
struct Follows {
  TaskKind task, after;
};
constexpr Follows follows[] = {{TaskKind::reinstate, TaskKind::dig}, {TaskKind::reinstate, TaskKind::lay},
                               {TaskKind::prove, TaskKind::lay},     {TaskKind::blow, TaskKind::prove},
                               {TaskKind::test, TaskKind::blow},     {TaskKind::connect, TaskKind::test}};

class ProgrammeChecker {
 public:
  explicit ProgrammeChecker(const AuditView& view)
      : v_(view), shift_(v_.plan.scenario.crews->calendar.shift.minutes()) {
    for (size_t k = 0; k < task_kinds; ++k)
      kinds_.add(v_.word(task_name(static_cast<TaskKind>(k))), static_cast<int64_t>(k));
    kinds_.sort();
  }

  void check() {
    find_unblown();
    for (size_t t = 0; t < t_.rows(); ++t) check_task(t);
    check_cycles();
    check_crews();
    check_amounts();
  }

 private:
  // Of a task's kind; task_kinds where it is no task.
  size_t kind(int64_t t) const {
    const int64_t k = kinds_[t_["kind"][t]];
    return k == no_cell ? task_kinds : static_cast<size_t>(k);
  }

  // Areas with a premises to which nothing is blown, where findings say that nothing fits.
  void find_unblown() {
    if (!v_.found.anywhere("no-cable-for-fibres") && !v_.found.anywhere("no-unit-for-fibres") &&
        !v_.found.anywhere("no-bundle-fits"))
      return;
    const int64_t cabinet = v_.word("cabinet"), headend = v_.word("headend");
    for (size_t l = 0; l < v_.links.rows(); ++l) {
      if (v_.links["premises"][l] == no_cell || v_.links["cable"][l] != no_cell) continue;
      int64_t at = v_.links["from station"][l];
      for (size_t step = 0; step < v_.stations.rows(); ++step, at = v_.stations["upstream"][at])
        if (v_.stations["kind"][at] == cabinet || v_.stations["kind"][at] == headend) break;
      unblown_.push_back(at);
    }
    std::sort(unblown_.begin(), unblown_.end());
  }
  bool excused(const Follows& f, size_t t) const {
    return f.after == TaskKind::blow && std::binary_search(unblown_.begin(), unblown_.end(), t_["area"][t]);
  }

  void check_task(size_t t) {
    const size_t k = kind(static_cast<int64_t>(t));
    if (k == task_kinds)
      return v_.log.add("word-unknown", t_, t, fmt::format("'{}' is no task", v_.plan.words[t_["kind"][t]]));
    const int64_t start = or_zero(start_[t]), finish = or_zero(finish_[t]);
    const bool crewed = crew_[t] != no_cell;
    if (!crewed && !v_.found.anywhere("no-crew-for-task"))
      v_.log.add("task-uncrewed", t_, t, "no crew does it and no finding says why");
    if (crewed && (start < 0 || finish - start != or_zero(minutes_[t])))
      v_.log.add("task-duration-differs", t_, t,
                 fmt::format("from {} to {} for {} min", start, finish, cell_text(minutes_[t])));
    if (crewed && !may_pause(static_cast<TaskKind>(k)) && minutes_[t] <= shift_ && finish > start &&
        start / shift_ != (finish - 1) / shift_)
      v_.log.add("task-split", t_, t,
                 fmt::format("{} is interrupted at a shift's end", v_.plan.words[t_["kind"][t]]));
    check_skill(t, k);
    std::array<bool, task_kinds + 1> after{};
    for (const uint32_t b : before_[t]) {
      after[kind(b)] = true;
      if (crewed && crew_[b] != no_cell && or_zero(finish_[b]) > start)
        v_.log.add("task-too-early", t_, t,
                   fmt::format("starts at {}, task {} is finished at {}", start, b, cell_text(finish_[b])));
    }
    for (const Follows& f : follows)
      if (static_cast<size_t>(f.task) == k && !after[static_cast<size_t>(f.after)] && !excused(f, t))
        v_.log.add("predecessor-missing", t_, t,
                   fmt::format("{} waits for no {}", task_name(f.task), task_name(f.after)));
  }

  void check_skill(size_t t, size_t k) const {
    if (crew_[t] == no_cell) return;
    const int64_t crew = v_.crews[crew_[t]];
    if (crew == no_cell)
      return v_.log.add("crew-unknown", t_, t, fmt::format("there is no crew '{}'", v_.plan.words[crew_[t]]));
    const auto& skills = v_.plan.scenario.crews->crews[CrewId(static_cast<uint32_t>(crew))].skills;
    if (std::find(skills.begin(), skills.end(), static_cast<TaskKind>(k)) == skills.end())
      v_.log.add("crew-without-skill", t_, t,
                 fmt::format("{} cannot {}", v_.plan.words[crew_[t]], task_name(static_cast<TaskKind>(k))));
  }

  // Tasks are taken once all before them are taken; what is left waits for itself.
  void check_cycles() const {
    const size_t n = t_.rows();
    std::vector<uint32_t> waits(n, 0), ready;
    std::vector<std::pair<uint32_t, uint32_t>> after;
    for (size_t t = 0; t < n; ++t)
      for (const uint32_t b : before_[t])
        if (b < n) after.emplace_back(b, static_cast<uint32_t>(t)), ++waits[t];
    std::sort(after.begin(), after.end());
    for (size_t t = 0; t < n; ++t)
      if (waits[t] == 0) ready.push_back(static_cast<uint32_t>(t));
    for (size_t i = 0; i < ready.size(); ++i)
      for (auto at = std::lower_bound(after.begin(), after.end(), std::pair(ready[i], uint32_t{0}));
           at != after.end() && at->first == ready[i]; ++at)
        if (--waits[at->second] == 0) ready.push_back(at->second);
    for (size_t t = 0; t < n; ++t)
      if (waits[t] > 0)
        return v_.log.add("task-cycle", t_, t, fmt::format("{} tasks wait for each other", n - ready.size()));
  }

  void check_crews() const {
    each_group(crew_, [&](int64_t crew, std::span<const uint32_t> rows) {
      std::vector<uint32_t> order(rows.begin(), rows.end());
      std::sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) {
        return std::pair(start_[a], finish_[a]) < std::pair(start_[b], finish_[b]);
      });
      for (size_t i = 1; i < order.size(); ++i)
        if (start_[order[i]] < finish_[order[i - 1]])
          v_.log.add("crew-in-two-places", t_, order[i],
                     fmt::format("{} is at task {} until {}", v_.plan.words[crew], order[i - 1],
                                 finish_[order[i - 1]]));
    });
  }

  // The programme does what the placed plan needs, no more and no less.
  void check_amounts() const {
    std::array<int64_t, task_kinds + 1> done{};
    for (size_t t = 0; t < t_.rows(); ++t) done[kind(static_cast<int64_t>(t))] += or_zero(t_["amount"][t]);
    const WorkCount w = count_work(v_);
    const std::pair<TaskKind, int64_t> needed[] = {
        {TaskKind::dig, w.dig},
        {TaskKind::reinstate, w.dig},
        {TaskKind::lay, w.lay},
        {TaskKind::blow, w.blow},
        {TaskKind::chamber, w.chamber * 1000},
        {TaskKind::cabinet, w.cabinet * 1000},
        {TaskKind::couple, w.couple * 1000},
        {TaskKind::prove, w.prove * 1000},
        {TaskKind::splice, w.splices_at_stations * 1000},
        {TaskKind::test, w.lit_dwellings * 1000},
        {TaskKind::connect, w.lit_dwellings * 1000},
    };
    for (const auto& [task, amount] : needed)
      if (done[static_cast<size_t>(task)] != amount)
        v_.log.add("programme-amount-differs", t_.file(), 0,
                   fmt::format("{}: {} in the programme, {} in the plan", task_name(task),
                               metres_of_cell(done[static_cast<size_t>(task)]), metres_of_cell(amount)));
  }

  const AuditView& v_;
  const WrittenTable& t_ = v_.programme;
  const Cells &start_ = t_["start"], &finish_ = t_["finish"], &minutes_ = t_["minutes"], &crew_ = t_["crew"];
  const CellLists& before_ = t_.list("before");
  const int64_t shift_;
  NumberMap kinds_;
  std::vector<int64_t> unblown_;  // sorted stations
};

}  // namespace

void check_programme(const AuditView& view) {
  ProgrammeChecker(view).check();
}

}  // namespace plan
