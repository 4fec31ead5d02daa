#include "model/duct_test.h"

#include <cmath>

namespace plan {

Length mandrel(Length bore, double share) {
  return Length::of_micrometres(std::llround(static_cast<double>(bore.micrometres()) * share));
}

Pressure at_temperature(const PressureReading& reading, Temperature other) {
  constexpr double zero = 273.15;
  const double ratio = (in_celsius(other) + zero) / (in_celsius(reading.air) + zero);
  return Pressure::of_pascals(in_pascals(reading.pressure) * ratio);
}

PressureVerdict pressure_test(const PressureReading& start, const PressureReading& end, double held_minutes,
                              double allowed_bar_per_minute) {
  PressureVerdict v;
  v.fall_bar = (in_pascals(start.pressure) - in_pascals(at_temperature(end, start.air))) / 1e5;
  v.allowed_bar = allowed_bar_per_minute * held_minutes;
  v.passes = v.fall_bar <= v.allowed_bar + 1e-9;
  return v;
}

}  // namespace plan
