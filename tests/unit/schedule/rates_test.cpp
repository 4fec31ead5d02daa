#include "schedule/rates.h"

#include <doctest/doctest.h>

#include "schedule/calendar.h"

using namespace plan;

namespace {

Rate gross(TaskKind task, double per_day, std::string surface = {}) {
  Rate r;
  r.task = task;
  r.per_day = per_day;
  r.surface = std::move(surface);
  return r;
}
Rate net(TaskKind task, double each, Work set_up) {
  Rate r;
  r.task = task;
  r.gross = false;
  r.minutes_each = each;
  r.set_up = set_up;
  return r;
}

}  // namespace

TEST_CASE("gross rates: 600 m of paved open cut at 40 m a crew-day are 15 crew-days") {
  // Derived from published outputs of 40 m a day; no utilisation on a gross rate.
  Crews crews;
  crews.utilisation = 0.7;
  crews.rates = {gross(TaskKind::dig, 40)};
  const Rates rates(crews);
  CHECK(rates.duration_of(rates.find(TaskKind::dig, "paved footway"), {600, 1, 9, {}}) == hours(15 * 8));
}

TEST_CASE("net rates: 144 fibres in one place take 12.5 h, and a day holds 90 splices") {
  // Derived: 30 min set-up + 5 min a fibre, one technician, before utilisation.
  Crews crews;
  crews.utilisation = 1;
  crews.rates = {net(TaskKind::splice, 5, minutes(30))};
  const Rates rates(crews);
  const Rate* rate = rates.find(TaskKind::splice, {});
  CHECK(rates.duration_of(rate, {144, 1, 1, {}}) == minutes(750));
  CHECK(rates.amount_within(rate, hours(8)) == doctest::Approx(90).epsilon(1e-12));
  CHECK(rates.duration_of(rate, {10, 3, 3, {}}) == minutes(3 * 30 + 50));
  crews.utilisation = 0.5;
  const Rates slower(crews);
  CHECK(slower.duration_of(slower.find(TaskKind::splice, {}), {144, 1, 1, {}}) == minutes(30 + 1440));
}

TEST_CASE("a blow takes its set-up, its minutes for each microduct and its running") {
  // 25 min set-up at a place, 7 min a further tube, 1,000 m at 25 m/min run for 40 min: common practice,
  // the last derived.
  Crews crews;
  crews.utilisation = 1;
  crews.rates = {net(TaskKind::blow, 7, minutes(25))};
  const Rates rates(crews);
  const Rate* rate = rates.find(TaskKind::blow, {});
  CHECK(rates.duration_of(rate, {1000, 1, 1, minutes(40)}) == minutes(25 + 7 + 40));
  CHECK(rates.duration_of(rate, {3000, 2, 3, minutes(120)}) == minutes(50 + 21 + 120));
  crews.rates = {gross(TaskKind::blow, 3000)};
  const Rates by_day(crews);
  CHECK(by_day.duration_of(by_day.find(TaskKind::blow, {}), {1000, 1, 1, minutes(40)}) == minutes(160));
}

TEST_CASE("a surface has its own rate, else that of any surface; none is none") {
  Crews crews;
  crews.rates = {gross(TaskKind::dig, 100), gross(TaskKind::dig, 20, "crossing")};
  const Rates rates(crews);
  CHECK(rates.find(TaskKind::dig, "crossing")->per_day == 20);
  CHECK(rates.find(TaskKind::dig, "verge")->per_day == 100);
  CHECK(rates.find(TaskKind::lay, {}) == nullptr);
  CHECK(rates.duration_of(nullptr, {5, 1, 1, {}}) == Work());
}

TEST_CASE("working days leave out weekends and holidays") {
  Calendar c;
  c.start = date_of(2027, 3, 6);  // a Saturday
  c.working_days = {Weekday::monday, Weekday::tuesday, Weekday::wednesday, Weekday::thursday,
                    Weekday::friday};
  c.holidays = {date_of(2027, 3, 9)};
  WorkDays days(c);
  CHECK(iso(days.date(0)) == "2027-03-08");
  CHECK(iso(days.date(1)) == "2027-03-10");
  CHECK(iso(days.date(4)) == "2027-03-15");
  CHECK(days.first_from(date_of(2027, 3, 1)) == 0);
  CHECK(days.first_from(date_of(2027, 3, 9)) == 1);
  CHECK(days.first_from(date_of(2027, 3, 13)) == 4);
  c.working_days.clear();
  WorkDays every(c);
  CHECK(iso(every.date(0)) == "2027-03-06");
  CHECK(iso(every.date(3)) == "2027-03-10");
}
