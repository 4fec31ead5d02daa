#include "base/date.h"

#include <doctest/doctest.h>

#include <initializer_list>
#include <string>

using namespace plan;

TEST_CASE("dates there and back, and no impossible ones") {
  CHECK(date_of(1970, 1, 1).days == 0);
  CHECK(date_of(2000, 3, 1).days == 11017);  // 30 years of 365 days, 7 leap days, 31 + 29 days
  CHECK(iso(date_of(2027, 3, 1)) == "2027-03-01");
  CHECK(parse_date("2027-03-01") == date_of(2027, 3, 1));
  CHECK(parse_date("2028-02-29").has_value());
  for (const char* bad : {"2027-02-29", "2100-02-29", "2027-13-01", "2027-00-10", "2027-04-31", "2027-3-1",
                          "2027/03/01", "27-03-01", "2027-03-0x", "2027-03-011", "", "-027-03-01"})
    CHECK_FALSE(parse_date(bad).has_value());
  for (int d = -800000; d < 800000; d += 997) {
    const Date date{d};
    if (iso(date).size() == 10 && iso(date)[0] != '-') CHECK(parse_date(iso(date)) == date);
  }
}

TEST_CASE("weekdays") {
  CHECK(weekday({0}) == Weekday::thursday);
  CHECK(weekday({-1}) == Weekday::wednesday);
  CHECK(weekday(date_of(2027, 3, 1)) == Weekday::monday);
  CHECK(weekday(date_of(2000, 1, 1)) == Weekday::saturday);
  CHECK(weekday(date_of(1900, 1, 1)) == Weekday::monday);
  CHECK(weekday_name(Weekday::sunday) == "Sunday");
}

TEST_CASE("ISO 8601 weeks: a week belongs to the year of its Thursday") {
  CHECK(iso_week(date_of(2027, 3, 1)) == "2027-W09");
  CHECK(iso_week(date_of(2005, 1, 1)) == "2004-W53");
  CHECK(iso_week(date_of(2005, 1, 2)) == "2004-W53");
  CHECK(iso_week(date_of(2005, 12, 31)) == "2005-W52");
  CHECK(iso_week(date_of(2007, 1, 1)) == "2007-W01");
  CHECK(iso_week(date_of(2008, 12, 29)) == "2009-W01");
  CHECK(iso_week(date_of(2009, 12, 31)) == "2009-W53");
  CHECK(iso_week(date_of(2010, 1, 3)) == "2009-W53");
  CHECK(iso_week(date_of(2026, 12, 31)) == "2026-W53");
}

TEST_CASE("days are counted") {
  CHECK(date_of(2026, 6, 2) - date_of(2026, 3, 2) == 92);
  CHECK(date_of(2028, 2, 28) + 2 == date_of(2028, 3, 1));
  CHECK(date_of(2026, 1, 1) < date_of(2026, 1, 2));
}
