#include "schedule/rates.h"

#include "base/check.h"

namespace plan {
namespace {

constexpr double least_per_day = 1e-3;  // less is no rate, and would overflow a count of minutes

bool usable(const Rate& r) {
  return r.gross ? r.per_day >= least_per_day : r.minutes_each > 0;
}

OutputRate output(const Rate& r, int places) {
  if (r.gross) return {RateKind::gross, r.per_day, {}};
  return {RateKind::net, 1 / r.minutes_each, r.set_up * places};
}

}  // namespace

Rates::Rates(const Crews& crews) : crews_(crews) {
  PLAN_CHECK(crews.calendar.shift.minutes() > 0);
  working_.day = crews.calendar.shift;
  working_.utilisation = crews.utilisation > 0 ? crews.utilisation : 1;
}

const Rate* Rates::find(TaskKind kind, std::string_view surface) const {
  const Rate* any = nullptr;
  for (const Rate& r : crews_.rates) {
    if (r.task != kind || !usable(r)) continue;
    if (!surface.empty() && r.surface == surface) return &r;
    if (r.surface.empty() && any == nullptr) any = &r;
  }
  return any;
}

Work Rates::duration_of(const Rate* rate, const Doing& d) const {
  if (rate == nullptr) return {};
  if (rate->gross || rate->task != TaskKind::blow)
    return duration(output(*rate, d.places), d.amount, working_);
  const double running = rate->minutes_each * d.pieces + static_cast<double>(d.running.minutes());
  return duration({RateKind::net, 1, rate->set_up * d.places}, running, working_);
}

double Rates::amount_within(const Rate* rate, Work time) const {
  return rate == nullptr ? 0 : done_within(output(*rate, 1), time, working_);
}

}  // namespace plan
