#include "model/duration.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace plan {

namespace {

double per_minute(const OutputRate& rate, const Working& w) {
  PLAN_CHECK(rate.amount > 0 && w.utilisation > 0 && w.weather > 0);
  const double normal = rate.kind == RateKind::gross ? rate.amount / static_cast<double>(w.day.minutes())
                                                     : rate.amount * w.utilisation;
  return normal * w.weather;
}

}  // namespace

Work duration(const OutputRate& rate, double quantity, const Working& w) {
  if (quantity <= 0) return {};
  // One part in a billion keeps 600 m / 40 m from becoming a minute more.
  const double running = quantity / per_minute(rate, w);
  return rate.set_up + minutes(static_cast<int64_t>(std::ceil(running * (1 - 1e-9))));
}

double done_within(const OutputRate& rate, Work time, const Working& w) {
  return std::max<double>(0, static_cast<double>((time - rate.set_up).minutes())) * per_minute(rate, w);
}

double visits_per_success(double first_visit_failure) {
  PLAN_CHECK(first_visit_failure >= 0 && first_visit_failure < 1);
  return 1 / (1 - first_visit_failure);
}

double blow_minutes(Length run, Speed first, Speed last) {
  const double a = in_metres_per_minute(first), b = in_metres_per_minute(last);
  PLAN_CHECK(a > 0 && b > 0);
  if (std::abs(a - b) < 1e-9 * a) return in_metres(run) / a;
  return in_metres(run) * std::log(a / b) / (a - b);
}

}  // namespace plan
