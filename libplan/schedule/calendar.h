// Working days, counted from the first one on or after the calendar's start.
#pragma once
#include <vector>

#include "base/date.h"
#include "scenario/works.h"

namespace plan {

// Centuries of five-day weeks: what a crew cannot do within them is a fault of the input.
inline constexpr int64_t last_working_day = 150'000;

class WorkDays {
 public:
  // A calendar without working days works on every day that is no holiday.
  explicit WorkDays(const Calendar& calendar);
  Date date(int64_t day);         // of working day `day`, 0 = the first; none later than the last
  int64_t first_from(Date date);  // the first working day on or after it; 0 for dates before the start

 private:
  bool works(Date date) const;
  void extend();
  const Calendar& calendar_;
  std::vector<Date> dates_;
};

}  // namespace plan
