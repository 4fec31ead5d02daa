#include "schedule/days.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

struct DayPart {
  int64_t day = 0;
  CrewId crew;
  TaskPart part;
};

// The whole amount is shared out by minutes, rounded so that the parts add up.
int64_t share(const Task& t, int64_t minute) {
  const int64_t all = t.duration.minutes();
  if (all == 0) return t.amount;
  return t.amount / all * minute + t.amount % all * minute / all;
}

void cut(TaskId id, const Task& t, int64_t shift, std::vector<DayPart>& out) {
  const int64_t start = t.start.minutes(), finish = t.finish.minutes();
  int64_t at = start, given = 0;
  if (std::max(start, finish - 1) / shift > last_working_day) return;  // never half a task
  do {
    const int64_t day = at / shift, end = std::min(finish, (day + 1) * shift);
    const int64_t until = share(t, end - start);
    out.push_back({day, t.crew, {id, minutes(at - day * shift), minutes(end - day * shift), until - given}});
    given = until;
    at = end;
  } while (at < finish);
}

void ready_dates(const ScheduleInput& in, WorkDays& days, Schedule& out) {
  std::vector<int64_t> last(in.layout.stations.size(), 0);
  for (const Task& t : out.tasks)
    if (t.area.valid()) last[t.area.value] = std::max(last[t.area.value], t.finish.minutes());
  out.area_ready.resize(last.size());
  const int64_t shift = in.crews.calendar.shift.minutes();
  for (const StationId s : out.area_ready.ids())
    out.area_ready[s] = days.date(std::max<int64_t>(0, last[s.value] - 1) / shift);
}

}  // namespace

void cut_into_days(const ScheduleInput& in, WorkDays& days, Schedule& out) {
  const int64_t shift = in.crews.calendar.shift.minutes();
  std::vector<DayPart> parts;
  for (const TaskId t : out.tasks.ids())
    if (out.tasks[t].crew.valid()) cut(t, out.tasks[t], shift, parts);
  std::sort(parts.begin(), parts.end(), [](const DayPart& a, const DayPart& b) {
    return std::tuple(a.day, a.crew, a.part.from, a.part.to, a.part.task) <
           std::tuple(b.day, b.crew, b.part.from, b.part.to, b.part.task);
  });
  std::vector<TaskPart> row;
  for (size_t i = 0; i < parts.size(); ++i) {
    row.push_back(parts[i].part);
    const bool last =
        i + 1 == parts.size() || parts[i + 1].day != parts[i].day || parts[i + 1].crew != parts[i].crew;
    if (!last) continue;
    out.crew_days.add({days.date(parts[i].day), parts[i].crew});
    out.parts.add(row);
    row.clear();
  }
  const auto date = [&](Work length) {
    return days.date(std::max<int64_t>(0, length.minutes() - 1) / shift);
  };
  out.start = days.date(0);
  out.finish = date(out.length);
  out.earliest_finish = date(out.bound);
  ready_dates(in, days, out);
}

}  // namespace plan
