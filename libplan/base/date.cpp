#include "base/date.h"

#include <fmt/core.h>

#include <array>
#include <chrono>

namespace plan {

Date date_of(int year, int month, int day) {
  const std::chrono::year_month_day ymd{std::chrono::year(year),
                                        std::chrono::month(static_cast<unsigned>(month)),
                                        std::chrono::day(static_cast<unsigned>(day))};
  return {static_cast<int32_t>(std::chrono::sys_days(ymd).time_since_epoch().count())};
}

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  int fields[3] = {0, 0, 0};
  constexpr std::array<std::pair<size_t, size_t>, 3> parts{{{0, 4}, {5, 2}, {8, 2}}};
  for (size_t f = 0; f < 3; ++f)
    for (const char c : text.substr(parts[f].first, parts[f].second)) {
      if (c < '0' || c > '9') return {};
      fields[f] = fields[f] * 10 + (c - '0');
    }
  const std::chrono::year_month_day ymd{std::chrono::year(fields[0]),
                                        std::chrono::month(static_cast<unsigned>(fields[1])),
                                        std::chrono::day(static_cast<unsigned>(fields[2]))};
  if (!ymd.ok()) return {};
  return date_of(fields[0], fields[1], fields[2]);
}

namespace {
std::chrono::year_month_day civil(Date d) {
  return std::chrono::year_month_day{std::chrono::sys_days(std::chrono::days(d.days))};
}
}  // namespace

std::string iso(Date d) {
  const auto c = civil(d);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(c.year()), static_cast<unsigned>(c.month()),
                     static_cast<unsigned>(c.day()));
}

Weekday weekday(Date d) {
  return static_cast<Weekday>(((d.days + 3) % 7 + 7) % 7);  // 1970-01-01 was a Thursday
}

std::string_view weekday_name(Weekday w) {
  constexpr std::array<std::string_view, 7> names{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                  "Friday", "Saturday", "Sunday"};
  return names[static_cast<size_t>(w)];
}

std::string iso_week(Date d) {
  const Date thursday = d + (3 - static_cast<int>(weekday(d)));  // a week belongs to its Thursday's year
  const int year = static_cast<int>(civil(thursday).year());
  const int week = (thursday - date_of(year, 1, 1)) / 7 + 1;
  return fmt::format("{:04}-W{:02}", year, week);
}

}  // namespace plan
