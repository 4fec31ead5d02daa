// How long a task takes: set-up + quantity / rate, rounded up once to whole minutes.
//
// Two kinds of published rate must not be mixed. Gross (D): per crew-day, waits already inside; a
// utilisation on top would count waiting twice. Net (N): running time; divide by the utilisation and
// add the set-up. A weather factor below 1 slows both.
//
//   duration({RateKind::gross, 40}, 600, {})                        // 15 crew-days of 8 h: 7,200 min
//   duration({RateKind::net, 1/5.0, minutes(30)}, 144, {})          // 144 fibres at 5 min: 750 min
#pragma once
#include "base/quantity.h"

namespace plan {

enum class RateKind { gross, net };

struct OutputRate {
  RateKind kind = RateKind::gross;
  double amount = 0;  // gross: quantity a crew-day; net: quantity a running minute
  Work set_up = {};
};
struct Working {
  Work day = hours(8);
  double utilisation = 1;  // of net rates only, 0 … 1
  double weather = 1;      // share of normal output, 0 … 1
};

// Set-up is not slowed by the weather, and a net set-up is not divided by the utilisation: it is
// measured as it happens. Nothing to do takes no time, set-up included; rate, utilisation and weather
// must be above 0.
Work duration(const OutputRate& rate, double quantity, const Working& working);
// Quantity done within a time that includes the set-up.
double done_within(const OutputRate& rate, Work time, const Working& working);
// Visits needed for one success when a share of first visits fails: 1 / (1 - p), p below 1.
double visits_per_success(double first_visit_failure);
// Running minutes of a blow whose speed falls linearly with distance: L ln(v0/v1)/(v0 - v1); exact and
// not rounded. Both speeds above 0.
double blow_minutes(Length run, Speed first, Speed last);

}  // namespace plan
