#include "schedule/schedule.h"

#include <algorithm>
#include <array>

#include "schedule/calendar.h"
#include "schedule/days.h"
#include "schedule/rates.h"
#include "schedule/tasks.h"
#include "solve/projects_crews.h"

namespace plan {
namespace {

constexpr size_t task_kinds = static_cast<size_t>(TaskKind::connect) + 1;

// When material ordered on day one can be used, in working minutes.
class Releases {
 public:
  Releases(const ScheduleInput& input, WorkDays& days) : in_(input), minutes_(input.takeoff.items.size(), 0) {
    const Date start = days.date(0);
    for (const ItemId i : in_.takeoff.items.ids()) {
      const Item& item = in_.takeoff.items[i];
      if (item.kind == ItemKind::opening || item.kind == ItemKind::work) continue;
      const int64_t day = days.first_from(start + in_.stock.days_of(item.name));
      minutes_[i] = day * in_.crews.calendar.shift.minutes();
    }
    used_by_kind();
    for (uint32_t c = 0, n = count(ItemKind::crossing); c < n; ++c)
      crossings_.push_back(item(ItemKind::crossing, c));
  }

  int64_t of(const Schedule& out, TaskId t) const {
    const Task& task = out.tasks[t];
    int64_t release = 0;
    for (const uint32_t thing : out.things[t]) release = std::max(release, of_thing(task.kind, thing));
    return release;
  }

 private:
  int64_t item(ItemKind kind, uint32_t index) const {
    const auto at = std::find_if(in_.takeoff.items.begin(), in_.takeoff.items.end(),
                                 [&](const Item& i) { return i.kind == kind && i.of == index; });
    return at == in_.takeoff.items.end()
               ? 0
               : minutes_[ItemId(static_cast<size_t>(at - in_.takeoff.items.begin()))];
  }

  void used_by_kind() {
    latest_.fill(0);
    for (const Quantity& q : in_.takeoff.quantities) {
      const ItemKind kind = in_.takeoff.items[q.item].kind;
      int64_t& latest = latest_[static_cast<size_t>(kind)];
      latest = std::max(latest, minutes_[q.item]);
    }
    for (uint32_t b = 0, n = count(ItemKind::bundle); b < n; ++b)
      bundles_.push_back(item(ItemKind::bundle, b));
    for (uint32_t c = 0, n = count(ItemKind::cable); c < n; ++c) cables_.push_back(item(ItemKind::cable, c));
  }

  uint32_t count(ItemKind kind) const {
    return static_cast<uint32_t>(std::count_if(in_.takeoff.items.begin(), in_.takeoff.items.end(),
                                               [&](const Item& i) { return i.kind == kind; }));
  }
  int64_t latest(ItemKind kind) const { return latest_[static_cast<size_t>(kind)]; }

  int64_t of_thing(TaskKind kind, uint32_t thing) const {
    switch (kind) {
      case TaskKind::dig:
        return of_span(SpanId(thing));
      case TaskKind::lay:
        return bundles_[in_.ducts.runs[RunId(thing)].bundle.value];
      case TaskKind::blow:
        return cables_[in_.fibre.cables[LinkId(thing)].cable.value];
      case TaskKind::chamber:
        return latest(ItemKind::chamber);
      case TaskKind::cabinet:
        return latest(ItemKind::cabinet);
      case TaskKind::couple:
        return latest(ItemKind::fitting);
      case TaskKind::splice:
        return latest(ItemKind::splitter);
      case TaskKind::connect:
        return latest(ItemKind::part);
      default:
        return 0;
    }
  }

  // No trench is opened before what lies in it is there, no crossing begun before it is granted.
  int64_t of_span(SpanId id) const {
    const Span& span = in_.network.spans[id];
    const CrossingId crossing =
        span.kind == SpanKind::street ? in_.demand.routes[span.route].crossing : CrossingId();
    int64_t release = crossing.valid() ? crossings_[crossing.value] : 0;
    for (const RunId r : in_.ducts.runs_in_span[id])
      release = std::max(release, bundles_[in_.ducts.runs[r].bundle.value]);
    return release;
  }

  const ScheduleInput& in_;
  Table<ItemId, int64_t> minutes_;
  std::array<int64_t, static_cast<size_t>(ItemKind::work) + 1> latest_{};
  std::vector<int64_t> bundles_, cables_, crossings_;
};

// Gross rates have the way from stop to stop inside.
int64_t travel_to(const ScheduleInput& in, const Rates& rates, const Task& task) {
  const std::string_view surface =
      task.surface.valid() ? std::string_view(in.demand.surfaces[task.surface]) : std::string_view();
  const Rate* rate = rates.find(task.kind, surface);
  return rate == nullptr || rate->gross ? 0 : std::max<int64_t>(0, in.crews.travel_between_stops.minutes());
}

// Areas one after another; within an area laying comes first, because a trench must not stay open.
uint32_t rank_of(const Task& task) {
  const uint32_t area = task.area.value + (task.kind == TaskKind::reinstate ? 1 : 0);
  return 2 * area + (task.kind == TaskKind::lay ? 0 : 1);
}

CrewProblem crew_problem(const ScheduleInput& in, const Rates& rates, WorkDays& days, Schedule& out) {
  const Releases releases(in, days);
  CrewProblem p;
  p.jobs.reserve(out.tasks.size());
  for (const TaskId t : out.tasks.ids()) {
    const Task& task = out.tasks[t];
    p.jobs.push_back({.skill = static_cast<uint8_t>(task.kind),
                      .splittable = splittable(task.kind),
                      .duration = task.duration.minutes(),
                      .release = releases.of(out, t),
                      .rank = rank_of(task),
                      .place = task.at.value,
                      .travel = travel_to(in, rates, task)});
  }
  p.before = std::move(out.before);
  for (const Crew& c : in.crews.crews) {
    uint32_t bits = 0;
    for (const TaskKind k : c.skills) bits |= 1U << static_cast<unsigned>(k);
    p.crew_skills.push_back(bits);
  }
  p.shift = in.crews.calendar.shift.minutes();
  return p;
}

void bound_length(const CrewProblem& problem, Schedule& out) {
  const CrewBound bound = crew_bound(problem);
  out.bound = minutes(std::max(bound.critical_path, bound.skill_flow));
  if (out.bound == Work()) return;
  out.binding = bound.skill_flow > bound.critical_path ? Binding::crews : Binding::critical_path;
  if (out.binding == Binding::crews)
    for (unsigned k = 0; k < task_kinds; ++k)
      if ((bound.skills >> k & 1U) != 0) out.bottleneck.push_back(static_cast<TaskKind>(k));
}

void check_length(const Rates& rates, Schedule& out) {
  const int64_t days = out.length.minutes() / rates.shift().minutes();
  if (days > last_working_day)
    out.findings.push_back({.rule = Rule::programme_too_long,
                            .actual = static_cast<double>(days),
                            .limit = static_cast<double>(last_working_day),
                            .mend = Mend::add_crew});
}

// One finding for each kind of task, at its first or its longest.
void find_faults(const Rates& rates, const Demand& demand, Schedule& out) {
  std::array<TaskId, task_kinds> uncrewed, unrated, longest;
  for (const TaskId t : out.tasks.ids()) {
    const Task& task = out.tasks[t];
    const size_t k = static_cast<size_t>(task.kind);
    const std::string_view surface =
        task.surface.valid() ? std::string_view(demand.surfaces[task.surface]) : std::string_view();
    if (!task.crew.valid() && !uncrewed[k].valid()) uncrewed[k] = t;
    if (!unrated[k].valid() && rates.find(task.kind, surface) == nullptr) unrated[k] = t;
    const bool over = !splittable(task.kind) && task.duration > rates.shift();
    if (over && (!longest[k].valid() || task.duration > out.tasks[longest[k]].duration)) longest[k] = t;
  }
  for (size_t k = 0; k < task_kinds; ++k) {
    if (unrated[k].valid())
      out.findings.push_back({.rule = Rule::rate_missing, .at = subject(unrated[k]), .mend = Mend::add_rate});
    if (uncrewed[k].valid())
      out.findings.push_back(
          {.rule = Rule::no_crew_for_task, .at = subject(uncrewed[k]), .mend = Mend::add_crew});
    if (longest[k].valid())
      out.findings.push_back({.rule = Rule::task_longer_than_shift,
                              .at = subject(longest[k]),
                              .actual = static_cast<double>(out.tasks[longest[k]].duration.minutes()),
                              .limit = static_cast<double>(rates.shift().minutes())});
  }
}

}  // namespace

Schedule make_schedule(const ScheduleInput& input, const Run& run) {
  run.tell("schedule", 0);
  Schedule out;
  const Rates rates(input.crews);
  WorkDays days(input.crews.calendar);
  const TaskIndex index = make_tasks(input, rates, out);
  find_precedence(input, index, out);
  run.tell("schedule", 0.4);
  CrewProblem problem = crew_problem(input, rates, days, out);
  const CrewPlan plan = plan_crews(problem);
  for (const TaskId t : out.tasks.ids()) {
    Task& task = out.tasks[t];
    task.crew = CrewId(plan.crews[t.value]);
    task.start = minutes(plan.starts[t.value]);
    task.finish = minutes(plan.finishes[t.value]);
  }
  out.length = minutes(plan.length);
  bound_length(problem, out);
  out.before = std::move(problem.before);
  run.tell("schedule", 0.8);
  find_faults(rates, input.demand, out);
  check_length(rates, out);
  cut_into_days(input, days, out);
  run.tell("schedule", 1);
  return out;
}

}  // namespace plan
