// The programme cut at shift ends into what each crew does on each day.
#pragma once
#include "schedule/calendar.h"
#include "schedule/schedule.h"

namespace plan {

// Fills crew_days, parts and the dates.
void cut_into_days(const ScheduleInput& input, WorkDays& days, Schedule& out);

}  // namespace plan
