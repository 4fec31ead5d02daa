// A planned estate with its programme.
#pragma once
#include "schedule/schedule.h"
#include "unit/takeoff/planned.h"

namespace plan {

struct Programmed : Planned {
  Schedule schedule;
  template <class From>
  explicit Programmed(From from) : Planned(std::move(from)) {
    schedule = make_schedule(schedule_input(), {});
  }
  ScheduleInput schedule_input() const {
    return {network, layout, ducts, fibre, blowing, takeoff, *s.demand, *s.stock, *s.crews};
  }
};

}  // namespace plan
