#include "schedule/schedule.h"

#include <doctest/doctest.h>

#include <random>

#include "unit/schedule/programme_checker.h"
#include "unit/schedule/programmed.h"

using namespace plan;

namespace {

// Streets of random length with doors on both sides; some on order, some of several dwellings.
Demand random_town(uint32_t seed) {
  std::mt19937 random(seed);
  const auto up_to = [&](uint32_t n) { return static_cast<int>(random() % n); };
  Drawn d;
  d.surface("garden");
  const char* surfaces[] = {"verge", "paved footway", "crossing"};
  for (int y = 0; y < 4; ++y) {
    const std::string name = "Row " + std::to_string(y);
    d.street(name, {{0, 100.0 * y}, {400, 100.0 * y}}, surfaces[up_to(3)]);
    if (y > 0) d.street(name + " lane", {{0, 100.0 * (y - 1)}, {0, 100.0 * y}}, surfaces[up_to(3)]);
    for (int i = 0; i < 12 + up_to(20); ++i) {
      Premises& one =
          d.premises(name + " no " + std::to_string(i), {5.0 + up_to(390), 100.0 * y + 12 - 24 * up_to(2)});
      if (up_to(6) == 0) one.dwellings = 2 + up_to(5);
      if (up_to(8) != 0) continue;
      one.connect = Connect::on_order;
      one.laid = up_to(2) == 0 ? DropLaid::to_boundary : DropLaid::to_door;
      one.boundary = metres(5);
    }
  }
  d.headend("Exchange", {-8, 0});
  return d.demand();
}

Scenario with_crews(Demand demand, void (*change)(Crews&)) {
  Scenario s = scenario_around(std::move(demand));
  Crews crews = *s.crews;
  change(crews);
  s.crews = Slice<Crews>(crews);
  return s;
}

size_t count(const Schedule& s, Rule rule) {
  return static_cast<size_t>(
      std::count_if(s.findings.begin(), s.findings.end(), [&](const Finding& f) { return f.rule == rule; }));
}

}  // namespace

TEST_CASE("one door: the chain of the trade, each step after the one before") {
  Drawn d;
  d.street("Mill Lane", {{0, 0}, {60, 0}});
  d.premises("1", {40, 10});
  d.headend("Exchange", {0, 5}).microduct_entries = 8;
  const Programmed p(d.demand());
  CHECK(p.schedule.findings.empty());
  CHECK(ProgrammeChecker(p).fault() == "");
  std::map<TaskKind, std::pair<Work, Work>> when;
  for (const Task& t : p.schedule.tasks) {
    const auto [at, first] = when.try_emplace(t.kind, t.start, t.finish);
    if (!first) at->second = {std::min(at->second.first, t.start), std::max(at->second.second, t.finish)};
  }
  // Order of works: common practice, no source.
  const TaskKind chain[] = {TaskKind::dig,  TaskKind::lay,    TaskKind::couple, TaskKind::prove,
                            TaskKind::blow, TaskKind::splice, TaskKind::test,   TaskKind::connect};
  for (size_t i = 0; i < std::size(chain); ++i) {
    CAPTURE(task_name(chain[i]));
    REQUIRE(when.count(chain[i]) == 1);
    if (i > 0) CHECK(when[chain[i - 1]].second <= when[chain[i]].first);
  }
  CHECK(when[TaskKind::lay].second <= when[TaskKind::reinstate].first);
}

TEST_CASE("random towns: the programme can be worked") {
  for (const uint32_t seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
    CAPTURE(seed);
    const Programmed p(with_crews(random_town(seed), [](Crews& c) {
      c.calendar.holidays = {date_of(2027, 4, 14), date_of(2027, 5, 6), date_of(2027, 5, 7)};
    }));
    CHECK(ProgrammeChecker(p).fault() == "");
    CHECK(p.schedule.length > Work());
    CHECK(p.schedule.before.size() == p.schedule.tasks.size());
  }
}

TEST_CASE("the checker of these tests catches planted faults") {
  const Programmed p(random_town(7));
  REQUIRE(ProgrammeChecker(p).fault() == "");
  const auto fault_of = [&](auto plant) {
    Schedule s = p.schedule;
    plant(s);
    return ProgrammeChecker(p, s).fault();
  };
  const auto first = [&](const Schedule& s, TaskKind k) {
    for (const TaskId t : s.tasks.ids())
      if (s.tasks[t].kind == k) return t;
    return TaskId();
  };
  CHECK(fault_of([&](Schedule& s) { s.tasks[first(s, TaskKind::blow)].crew = CrewId(0U); }) != "");
  CHECK(fault_of([&](Schedule& s) { s.crew_days[OrderId(0U)].date = date_of(2027, 5, 2); }) ==
        "work on a day off");
  CHECK(fault_of([&](Schedule& s) { s.bound = s.length + minutes(1); }) == "bound above the length");
  CHECK(fault_of([&](Schedule& s) { ++s.tasks[first(s, TaskKind::lay)].amount; }) != "");
  CHECK(fault_of([&](Schedule& s) {
          const TaskId t = first(s, TaskKind::connect);
          s.tasks[t].start = {};
          s.tasks[t].finish = s.tasks[t].duration;
        }) != "");
}

TEST_CASE("nothing begins before its material is there") {
  const auto leads = [](int bundles) {
    Drawn d;
    d.street("Mill Lane", {{0, 0}, {60, 0}});
    d.premises("1", {40, 10});
    d.headend("Exchange", {0, 5}).microduct_entries = 8;
    Scenario s = scenario_around(d.demand());
    Stock stock;
    stock.leads = {{"", 0}, {"1 x 7/3.5 mm bundle", bundles}};
    s.stock = Slice<Stock>(stock);
    return Programmed(s);
  };
  const Programmed now = leads(0), later = leads(28);
  CHECK(iso(now.schedule.crew_days[OrderId(0U)].date) == "2027-03-01");
  for (const Task& t : later.schedule.tasks)
    if (t.kind == TaskKind::lay) CHECK(t.start >= hours(8) * 20);  // four weeks of five days
  CHECK(ProgrammeChecker(later).fault() == "");
}

TEST_CASE("without a crew or a rate the rest is planned and the gap is told once") {
  const Programmed uncrewed(with_crews(random_town(8), [](Crews& c) {
    for (CrewId k : c.crews.ids()) std::erase(c.crews[k].skills, TaskKind::blow);
  }));
  CHECK(count(uncrewed.schedule, Rule::no_crew_for_task) == 1);
  CHECK(ProgrammeChecker(uncrewed).fault() == "");
  const Programmed unrated(with_crews(random_town(8), [](Crews& c) {
    std::erase_if(c.rates, [](const Rate& r) { return r.task == TaskKind::couple; });
  }));
  CHECK(count(unrated.schedule, Rule::rate_missing) == 1);
  CHECK(ProgrammeChecker(unrated).fault() == "");
  const Programmed slow(with_crews(random_town(8), [](Crews& c) {
    for (Rate& r : c.rates)
      if (r.task == TaskKind::connect) r.per_day = 0.5;
  }));
  REQUIRE(count(slow.schedule, Rule::task_longer_than_shift) == 1);
  for (const Finding& f : slow.schedule.findings)
    if (f.rule == Rule::task_longer_than_shift) CHECK(f.actual == 960);
  CHECK(ProgrammeChecker(slow).fault() == "");
}

TEST_CASE("more crews never raise the bound, and the bound names the scarce skills") {
  const Demand town = random_town(9);
  const Programmed few(with_crews(town, [](Crews&) {}));
  const Programmed many(with_crews(town, [](Crews& c) {
    const Crew connect = c.crews[CrewId(c.crews.size() - 1)];
    for (int i = 0; i < 6; ++i) {
      c.crews.add(connect);
      c.crews[CrewId(c.crews.size() - 1)].name = "more " + std::to_string(i);
    }
  }));
  CHECK(many.schedule.bound <= few.schedule.bound);
  CHECK(ProgrammeChecker(many).fault() == "");
  const Programmed one_splicer(with_crews(town, [](Crews& c) {
    for (Rate& r : c.rates)
      if (r.task == TaskKind::splice) r.minutes_each = 200;
  }));
  CHECK(one_splicer.schedule.binding == Binding::crews);
  // The one splicing crew also tests.
  CHECK(one_splicer.schedule.bottleneck == std::vector<TaskKind>{TaskKind::splice, TaskKind::test});
  CHECK(one_splicer.schedule.bound > few.schedule.bound);
}

TEST_CASE("a rate that would take millennia is told and fills no memory") {
  const Programmed p(with_crews(random_town(8), [](Crews& c) {
    for (Rate& r : c.rates)
      if (r.task == TaskKind::lay) r.per_day = 0.001;
  }));
  REQUIRE(count(p.schedule, Rule::programme_too_long) == 1);
  CHECK(p.schedule.parts.values() < 1'000'000);
  CHECK(p.schedule.bound <= p.schedule.length);
}

TEST_CASE("an estate with nothing to build has an empty programme") {
  Drawn d;
  d.street("Mill Lane", {{0, 0}, {60, 0}});
  d.premises("1", {40, 10}).connect = Connect::never;
  d.headend("Exchange", {0, 5});
  const Programmed p(d.demand());
  CHECK(p.schedule.length == Work());
  CHECK(p.schedule.binding == Binding::none);
  CHECK(p.schedule.crew_days.empty());
  CHECK(p.schedule.finish == p.schedule.start);
}
