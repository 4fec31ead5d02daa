// Civil dates as days since 1970-01-01 (proleptic Gregorian calendar).
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace plan {

struct Date {
  int32_t days = 0;
  friend constexpr bool operator==(Date, Date) = default;
  friend constexpr auto operator<=>(Date, Date) = default;
  friend constexpr Date operator+(Date d, int n) { return {d.days + n}; }
  friend constexpr int operator-(Date a, Date b) { return a.days - b.days; }
};

enum class Weekday : uint8_t { monday, tuesday, wednesday, thursday, friday, saturday, sunday };

Date date_of(int year, int month, int day);
std::optional<Date> parse_date(std::string_view iso);  // "2027-03-01"; nothing for an impossible date
std::string iso(Date d);
Weekday weekday(Date d);
std::string_view weekday_name(Weekday w);  // "Monday"
// ISO 8601 week, "2027-W09".
std::string iso_week(Date d);

}  // namespace plan
