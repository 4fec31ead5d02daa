// Whether a programme can be worked: re-derived from the plan and the calendar, and sharing nothing with the
// stage but its result structs.
#pragma once
#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "unit/schedule/programmed.h"

namespace plan {

struct ProgrammeChecker {
  const Programmed& p;
  const Schedule& s;
  std::map<std::tuple<int, uint32_t>, std::vector<TaskId>> by_thing = {};  // kind and thing

  explicit ProgrammeChecker(const Programmed& plan) : ProgrammeChecker(plan, plan.schedule) {}
  ProgrammeChecker(const Programmed& plan, const Schedule& schedule) : p(plan), s(schedule) {
    for (const TaskId t : s.tasks.ids())
      for (const uint32_t thing : s.things[t])
        by_thing[{static_cast<int>(s.tasks[t].kind), thing}].push_back(t);
  }

  std::string fault() const {
    for (const std::string& f : {crews(), calendar(), parts(), precedence(), lengths()})
      if (!f.empty()) return f;
    return {};
  }

  const std::vector<TaskId>& of(TaskKind kind, uint32_t thing) const {
    static const std::vector<TaskId> none;
    const auto at = by_thing.find({static_cast<int>(kind), thing});
    return at == by_thing.end() ? none : at->second;
  }

  std::string crews() const {
    std::map<uint32_t, std::vector<std::pair<int64_t, int64_t>>> busy;
    for (const Task& t : s.tasks) {
      if (!t.crew.valid()) continue;
      const auto& skills = p.s.crews->crews[t.crew].skills;
      if (std::find(skills.begin(), skills.end(), t.kind) == skills.end()) return "crew without the skill";
      if (t.finish - t.start != t.duration) return "a task takes another time than its duration";
      if (t.duration > Work()) busy[t.crew.value].push_back({t.start.minutes(), t.finish.minutes()});
    }
    for (auto& [crew, spans] : busy) {
      std::sort(spans.begin(), spans.end());
      for (size_t i = 1; i < spans.size(); ++i)
        if (spans[i].first < spans[i - 1].second) return "two tasks at a time";
    }
    return {};
  }

  std::string calendar() const {
    const Calendar& c = p.s.crews->calendar;
    for (const CrewDay& d : s.crew_days) {
      if (std::count(c.working_days.begin(), c.working_days.end(), weekday(d.date)) == 0)
        return "work on a day off";
      if (std::count(c.holidays.begin(), c.holidays.end(), d.date) > 0) return "work on a holiday";
      if (d.date < c.start) return "work before the start";
    }
    return {};
  }

  std::string parts() const {
    std::map<uint32_t, std::pair<int64_t, int64_t>> done;  // minutes, amount
    std::set<std::pair<int32_t, uint32_t>> days;
    for (const OrderId k : s.crew_days.ids()) {
      if (!days.insert({s.crew_days[k].date.days, s.crew_days[k].crew.value}).second)
        return "a crew-day twice";
      Work last;
      for (const TaskPart& part : s.parts[k]) {
        if (s.tasks[part.task].crew != s.crew_days[k].crew) return "a part of another crew";
        if (part.from < last || part.to < part.from) return "parts of a day overlap";
        if (part.to > p.s.crews->calendar.shift) return "work after the shift";
        last = part.to;
        done[part.task.value].first += (part.to - part.from).minutes();
        done[part.task.value].second += part.amount;
      }
    }
    for (const TaskId t : s.tasks.ids()) {
      if (!s.tasks[t].crew.valid()) continue;
      if (done[t.value] != std::pair(s.tasks[t].duration.minutes(), s.tasks[t].amount))
        return "the parts of a task do not add up";
    }
    return {};
  }

  // Every task of (kind, thing) ends before `after` begins.
  bool ends(TaskKind kind, uint32_t thing, TaskId after) const {
    const auto& tasks = of(kind, thing);
    return std::all_of(tasks.begin(), tasks.end(),
                       [&](TaskId t) { return s.tasks[t].finish <= s.tasks[after].start; });
  }

  std::string precedence() const {
    for (const RunId r : p.ducts.runs.ids())
      for (const TaskId lay : of(TaskKind::lay, r.value))
        for (const SpanId span : p.ducts.run_spans[r]) {
          if (!ends(TaskKind::dig, span.value, lay)) return "laid before it was dug";
          for (const TaskId close : of(TaskKind::reinstate, span.value))
            if (s.tasks[lay].finish > s.tasks[close].start) return "made good before it was laid";
        }
    for (const LinkId l : p.layout.links.ids()) {
      const std::string f = path(l);
      if (!f.empty()) return f;
    }
    for (const DwellingId d : p.fibre.dwellings.ids()) {
      const std::string f = dwelling(d);
      if (!f.empty()) return f;
    }
    return {};
  }

  std::string path(LinkId l) const {
    const auto sections = p.ducts.paths[l];
    for (const TaskId prove : of(TaskKind::prove, l.value)) {
      for (size_t i = 0; i < sections.size(); ++i) {
        const Section& section = p.ducts.sections[sections[i]];
        if (!ends(TaskKind::lay, section.run.value, prove)) return "proven before it was laid";
        if (i > 0 && !joined_before(section.from, {sections[i - 1], sections[i]}, prove))
          return "proven before it was coupled";
      }
      for (const TaskId blow : of(TaskKind::blow, l.value))
        if (s.tasks[prove].finish > s.tasks[blow].start) return "blown before it was proven";
    }
    if (p.takeoff.blown[l] != 0 && of(TaskKind::blow, l.value).size() != 1) return "not blown once";
    return {};
  }

  // A task that couples at the node and begins after both runs were laid ends before `after`.
  bool joined_before(NodeId node, std::pair<SectionId, SectionId> sides, TaskId after) const {
    const auto& tasks = of(TaskKind::couple, node.value);
    return std::any_of(tasks.begin(), tasks.end(), [&](TaskId t) {
      return s.tasks[t].finish <= s.tasks[after].start &&
             ends(TaskKind::lay, p.ducts.sections[sides.first].run.value, t) &&
             ends(TaskKind::lay, p.ducts.sections[sides.second].run.value, t);
    });
  }

  std::string dwelling(DwellingId d) const {
    const Dwelling& row = p.fibre.dwellings[d];
    if (row.state != LightState::lit) return {};
    if (of(TaskKind::test, d.value).size() != 1 || of(TaskKind::connect, d.value).size() != 1)
      return "not tested and connected once";
    const TaskId test = of(TaskKind::test, d.value).front();
    if (!ends(TaskKind::test, d.value, of(TaskKind::connect, d.value).front()))
      return "connected before tested";
    for (LinkId l = row.link; l.valid(); l = p.layout.feeds[p.layout.links[l].from]) {
      if (!ends(TaskKind::blow, l.value, test)) return "tested before it was blown";
      const StationId station = p.layout.links[l].from;
      const auto& splices = of(TaskKind::splice, station.value);
      for (const TaskId t : splices) {
        if (s.tasks[t].area != p.takeoff.link_area[l]) continue;
        if (!ends(TaskKind::blow, l.value, t)) return "spliced before it was blown";
        if (s.tasks[t].finish > s.tasks[test].start) return "tested before it was spliced";
      }
    }
    return {};
  }

  std::string lengths() const {
    Work last;
    for (const Task& t : s.tasks) last = std::max(last, t.finish);
    if (last != s.length) return "length is not that of the last task";
    if (s.bound > s.length) return "bound above the length";
    if (s.earliest_finish > s.finish) return "bound's date after the finish";
    std::map<int, int64_t> amounts, counted;
    for (const Task& t : s.tasks) amounts[static_cast<int>(t.kind)] += t.amount;
    for (const Quantity& q : p.takeoff.quantities) {
      const Item& item = p.takeoff.items[q.item];
      if (item.kind == ItemKind::work) counted[static_cast<int>(item.of)] += q.amount;
      if (item.kind == ItemKind::opening)
        for (const TaskKind k : {TaskKind::dig, TaskKind::reinstate})
          counted[static_cast<int>(k)] += q.amount;
    }
    // Splices at outlets are part of connecting.
    for (const PremisesId o : p.s.demand->premises.ids())
      if (p.basis.needs[o].planned && !p.basis.needs[o].reserved && p.layout.drops[o].valid())
        counted[static_cast<int>(TaskKind::splice)] -= p.fibre.premises_splices[o];
    return amounts == counted ? std::string() : "tasks are not the quantities of the take-off";
  }
};

}  // namespace plan
