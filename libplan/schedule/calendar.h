// Working days, counted from the first one on or after the calendar's start.
#pragma once
#include <vector>

#include "base/date.h"
#include "scenario/works.h"

namespace plan {

class WorkDays {
 public:
  // A calendar without working days works on every day that is no holiday.
  explicit WorkDays(const Calendar& calendar);
  Date date(int64_t day);          // of working day `day`, 0 = the first
  int64_t first_from(Date date);   // the first working day on or after it; 0 for dates before the start

 private:
  bool works(Date date) const;
  void extend();
  const Calendar& calendar_;
  std::vector<Date> dates_;
};

}  // namespace plan
