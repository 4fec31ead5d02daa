#include "schedule/calendar.h"

#include <algorithm>

namespace plan {

WorkDays::WorkDays(const Calendar& calendar) : calendar_(calendar) {
  extend();
}

bool WorkDays::works(Date date) const {
  const auto& days = calendar_.working_days;
  const bool weekday_works = days.empty() || std::find(days.begin(), days.end(), weekday(date)) != days.end();
  return weekday_works && !std::binary_search(calendar_.holidays.begin(), calendar_.holidays.end(), date);
}

void WorkDays::extend() {
  Date next = dates_.empty() ? calendar_.start : dates_.back() + 1;
  while (!works(next)) next = next + 1;
  dates_.push_back(next);
}

Date WorkDays::date(int64_t day) {
  day = std::min(day, last_working_day);
  while (static_cast<int64_t>(dates_.size()) <= day) extend();
  return dates_[static_cast<size_t>(day)];
}

int64_t WorkDays::first_from(Date date) {
  while (dates_.back() < date) extend();
  return std::lower_bound(dates_.begin(), dates_.end(), date) - dates_.begin();
}

}  // namespace plan
