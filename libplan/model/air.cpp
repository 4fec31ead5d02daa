#include "model/air.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plan {

namespace {

using std::numbers::pi;

// Resistance to flow: drop of p^2 over a run = friction_factor * pull * flow^2.
double pull(Length bore, Length unit, double run, double gas) {
  const double area = flow_area(bore, unit);
  return gas * run / (area * area * in_metres(bore - unit));
}

struct Drops {
  double occupied, bare;  // Pa^2
};

Drops drops(const AirLine& line, double flow, WallFriction law) {
  const double gas = specific_gas_energy(line.air), x = in_metres(line.occupied);
  const auto one = [&](Length unit, double run) {
    if (run <= 0 || flow <= 0) return 0.0;
    return friction_factor(reynolds(flow, line.bore, unit, line.air), law) * pull(line.bore, unit, run, gas) *
           flow * flow;
  };
  return {one(line.unit, x), one({}, in_metres(line.length) - x)};
}

double flow_between(const AirLine& line, double exit, WallFriction law) {
  const double inlet = in_pascals(line.inlet), wanted = inlet * inlet - exit * exit;
  if (wanted <= 0) return 0;
  if (law == WallFriction::blasius) {  // a drop grows with flow^1.75
    const Drops at_one = drops(line, 1.0, law);
    return std::pow(wanted / (at_one.occupied + at_one.bare), 4.0 / 7);
  }
  double low = 1e-12, high = 1e3;
  for (int i = 0; i < 80; ++i) {
    const double middle = std::sqrt(low * high);
    const Drops d = drops(line, middle, law);
    (d.occupied + d.bare > wanted ? high : low) = middle;
  }
  return low;
}

}  // namespace

double specific_gas_energy(Temperature air) {
  return 287.05 * (in_celsius(air) + 273.15);
}

double air_viscosity(Temperature air) {
  const double t = in_celsius(air) + 273.15, reference = 293.15, sutherland = 110.4;
  return 1.82e-5 * std::pow(t / reference, 1.5) * (reference + sutherland) / (t + sutherland);
}

double friction_factor(double re, WallFriction law) {
  if (law == WallFriction::blasius) return 0.3164 / std::sqrt(std::sqrt(re));
  const auto power = [](double v, int doublings) {
    for (int i = 0; i < doublings; ++i) v *= v;
    return v;
  };
  const double laminar = power(8 / re, 3) * power(8 / re, 2);  // ^12
  const double a = power(2.457 * 0.9 * std::log(re / 7), 4), b = power(37530 / re, 4);
  return 8 * std::pow(laminar + std::pow(a + b, -1.5), 1.0 / 12);
}

double flow_area(Length bore, Length unit) {
  const double outer = in_metres(bore), inner = in_metres(unit);
  return pi / 4 * (outer * outer - inner * inner);
}

double reynolds(double kg_per_second, Length bore, Length unit, Temperature air) {
  return 4 * kg_per_second / (pi * in_metres(bore + unit) * air_viscosity(air));
}

double air_speed(double kg_per_second, double area_m2, Pressure at, Temperature air) {
  return kg_per_second * specific_gas_energy(air) / (area_m2 * in_pascals(at));
}

AirFlow air_flow(const AirLine& line, WallFriction law) {
  const double inlet = in_pascals(line.inlet);
  if (inlet <= ambient_pascals || line.length <= Length{} || line.bore <= line.unit)
    return {0, line.inlet, Pressure::of_pascals(ambient_pascals)};
  const bool full = line.occupied >= line.length;
  const double area = flow_area(line.bore, full ? line.unit : Length{});
  const double speed_limit = std::sqrt(specific_gas_energy(line.air));
  const auto chokes = [&](double exit) { return flow_between(line, exit, law) / area * speed_limit > exit; };
  double exit = ambient_pascals;
  if (chokes(exit)) {
    double high = inlet;
    for (int i = 0; i < 50; ++i) {
      const double middle = (exit + high) / 2;
      (chokes(middle) ? exit : high) = middle;
    }
    exit = high;
  }
  const double flow = flow_between(line, exit, law);
  const double head = inlet * inlet - drops(line, flow, law).occupied;
  return {flow, Pressure::of_pascals(std::sqrt(std::max(exit * exit, head))), Pressure::of_pascals(exit)};
}

double free_air(const AirFlow& flow) {
  return flow.kg_per_second / 1.20412;
}

double occupied_gradient_ratio(Length bore, Length unit) {
  return std::pow(flow_area(bore, {}) / flow_area(bore, unit), 1.75) * std::pow(bore / (bore - unit), 1.25);
}

Pressure pressure_along(Pressure inlet, Pressure end, double share) {
  const double first = in_pascals(inlet), last = in_pascals(end);
  return Pressure::of_pascals(std::sqrt(first * first - (first * first - last * last) * share));
}

double drag_coefficient(Length bore, Length unit) {
  return pi / 4 * in_metres(bore) * in_metres(unit);
}

double laminar_drag_coefficient(Length bore, Length unit) {
  const double outer = in_metres(bore) / 2, inner = in_metres(unit) / 2;
  return pi / 2 * (outer * outer - inner * inner) / std::log(outer / inner);
}

MovingShare moving_share(Length bore, Length unit, double unit_speed, double speed) {
  if (unit_speed <= 0) return {};
  if (unit_speed >= speed) return {0, 0};
  const double outer = in_metres(bore), inner = in_metres(unit);
  const double slip = (speed - unit_speed) / speed, shear = slip * slip;
  const double wetted = outer + inner * shear;
  const double k = flow_area(bore, unit) * inner * shear / wetted + pi / 4 * inner * inner;
  return {k / drag_coefficient(bore, unit), wetted / (outer + inner)};
}

double fill_seconds(const AirLine& line, const AirFlow& flow) {
  if (flow.kg_per_second <= 0) return 0;
  const double first = in_pascals(line.inlet), last = in_pascals(flow.exit);
  const double mean = 2.0 / 3 * (first * first * first - last * last * last) / (first * first - last * last);
  return flow_area(line.bore, {}) * in_metres(line.length) * mean /
         (specific_gas_energy(line.air) * flow.kg_per_second);
}

}  // namespace plan
