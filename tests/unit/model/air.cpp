// Air against the reference values (derived from the gas laws and pipe friction, by hand).
#include "model/air.h"

#include <doctest/doctest.h>

#include <cmath>

#include "model/riccati.h"

using namespace plan;

namespace {

using doctest::Approx;
const Pressure ten_bar = bar_gauge(10);
const Length thin = millimetres(1.1), narrow = millimetres(3.5);

AirLine line(double bore_mm, double unit_mm, double length, double occupied) {
  return {millimetres(bore_mm), millimetres(unit_mm), metres(length), metres(occupied), ten_bar, celsius(20)};
}
double litres_a_minute(double bore_mm, double length) {
  return free_air(air_flow(line(bore_mm, 0, length, 0), WallFriction::all_regimes)) * 60000;
}

}  // namespace

TEST_CASE("a full bore of 3.5 mm, 1 km, 10 bar") {
  const AirFlow f = air_flow(line(3.5, 1.1, 1000, 1000), WallFriction::blasius);
  const double re = reynolds(f.kg_per_second, narrow, thin, celsius(20)), area = flow_area(narrow, thin);
  CHECK(f.kg_per_second == Approx(2.53414e-4).epsilon(3e-5));
  CHECK(re == Approx(3854).epsilon(3e-5));
  CHECK(friction_factor(re, WallFriction::blasius) == Approx(0.0401567).epsilon(3e-5));
  CHECK(free_air(f) * 60000 == Approx(12.6274).epsilon(3e-5));
  CHECK(air_speed(f.kg_per_second, area, ten_bar, celsius(20)) == Approx(2.2331).epsilon(3e-5));
  CHECK(air_speed(f.kg_per_second, area, f.exit, celsius(20)) == Approx(24.272).epsilon(3e-5));
  CHECK(in_pascals(pressure_along(ten_bar, f.exit, 0.5)) == Approx(782043).epsilon(3e-5));
}

TEST_CASE("K7d the bare bore") {
  const AirFlow f = air_flow(line(3.5, 0, 1000, 0), WallFriction::blasius);
  CHECK(f.kg_per_second == Approx(3.68162e-4).epsilon(3e-5));
  CHECK(free_air(f) * 60000 == Approx(18.3451).epsilon(3e-5));
  CHECK(reynolds(f.kg_per_second, narrow, {}, celsius(20)) == Approx(7358.84).epsilon(3e-5));
}

TEST_CASE("the unit in the first 400 m of 1 km") {
  CHECK(occupied_gradient_ratio(narrow, thin) == Approx(1.92249).epsilon(3e-5));
  CHECK(occupied_gradient_ratio(millimetres(5.5), thin) == Approx(1.41959).epsilon(3e-5));
  const AirFlow f = air_flow(line(3.5, 1.1, 1000, 400), WallFriction::blasius);
  CHECK(in_pascals(f.at_head) == Approx(733050).epsilon(3e-5));
  CHECK(f.kg_per_second == Approx(3.07677e-4).epsilon(3e-5));
}

TEST_CASE("drag: shear and pressure, and the laminar law") {
  const double k = drag_coefficient(narrow, thin), gauge = 1e6;
  CHECK(k == Approx(3.02378e-6).epsilon(3e-5));
  CHECK(k * gauge == Approx(3.02378).epsilon(3e-5));
  CHECK(flow_area(thin, {}) * gauge == Approx(0.950332).epsilon(3e-5));
  CHECK((k - flow_area(thin, {})) * gauge == Approx(2.0735).epsilon(3e-5));
  CHECK(laminar_drag_coefficient(narrow, thin) == Approx(3.74564e-6).epsilon(1e-5));
  CHECK(laminar_drag_coefficient(narrow, thin) / k == Approx(1.23873).epsilon(1e-5));
}

TEST_CASE("drag on a moving unit at the inlet") {
  const double at_rest = 1.65099e-3, speeds[] = {0, 1.0 / 3, 0.5, 1.0};
  const double expected[] = {1.65099e-3, 1.30395e-3, 1.15143e-3, 7.77825e-4};
  for (size_t i = 0; i < 4; ++i) {
    const MovingShare s = moving_share(narrow, thin, speeds[i], 2.2331);
    CHECK(at_rest * s.drag * s.gradient == Approx(expected[i]).epsilon(1e-4));
  }
  CHECK(moving_share(narrow, thin, 3, 2.2331).drag == 0);
}

TEST_CASE("filling a bare duct") {
  const auto seconds = [](double bore, double length) {
    const AirLine l = line(bore, 0, length, 0);
    return fill_seconds(l, air_flow(l, WallFriction::blasius));
  };
  CHECK(seconds(3.5, 1000) == Approx(229.78).epsilon(1e-4));
  CHECK(seconds(5.5, 1000) == Approx(166.38).epsilon(1e-4));
  CHECK(seconds(3.5, 500) == Approx(77.316).epsilon(1e-4));
}

TEST_CASE("free air of the bare bore at 10 bar, all regimes") {
  CHECK(litres_a_minute(2.1, 100) == Approx(17.3).epsilon(0.01));
  CHECK(litres_a_minute(2.1, 500) == Approx(6.8).epsilon(0.01));
  CHECK(litres_a_minute(2.1, 2000) == Approx(3.7).epsilon(0.015));
  CHECK(litres_a_minute(3.5, 300) == Approx(37.1).epsilon(0.01));
  CHECK(litres_a_minute(3.5, 800) == Approx(21.0).epsilon(0.01));
  CHECK(litres_a_minute(3.5, 1500) == Approx(14.6).epsilon(0.01));
  CHECK(litres_a_minute(5.5, 1000) == Approx(63.6).epsilon(0.01));
  CHECK(litres_a_minute(8, 800) == Approx(199).epsilon(0.01));
  CHECK(litres_a_minute(10, 2000) == Approx(217).epsilon(0.01));
}

TEST_CASE("V8 published flows at 10 bar over 1 km: 18, 160, 280 l/min (Sutehall), within 20 %") {
  CHECK(litres_a_minute(3.5, 1000) == Approx(18).epsilon(0.20));
  CHECK(litres_a_minute(8, 1000) == Approx(160).epsilon(0.20));
  CHECK(litres_a_minute(10, 1000) == Approx(280).epsilon(0.20));
}

TEST_CASE("a short duct chokes: 3.5 mm below about 21 m at 10 bar (derived)") {
  CHECK(air_flow(line(3.5, 0, 22, 0), WallFriction::blasius).exit == bar_gauge(0));
  const AirFlow f = air_flow(line(3.5, 0, 10, 0), WallFriction::blasius);
  CHECK(in_bar_gauge(f.exit) > 0.3);
  CHECK(air_speed(f.kg_per_second, flow_area(narrow, {}), f.exit, celsius(20)) == Approx(290).epsilon(2e-3));
}

TEST_CASE("flow falls as the unit goes in; nothing flows without a drop or past a plug") {
  double last = 1;
  for (double x = 0; x <= 1000; x += 100) {
    const AirFlow f = air_flow(line(3.5, 1.1, 1000, x), WallFriction::all_regimes);
    CHECK(f.kg_per_second < last);
    CHECK(in_pascals(f.at_head) >= ambient_pascals);
    CHECK(f.at_head <= ten_bar);
    last = f.kg_per_second;
  }
  AirLine l = line(3.5, 1.1, 1000, 500);
  l.inlet = bar_gauge(0);
  CHECK(air_flow(l, WallFriction::all_regimes).kg_per_second == 0);
  CHECK(air_flow(line(3.5, 3.5, 100, 50), WallFriction::blasius).kg_per_second == 0);
  CHECK(air_flow(line(3.5, 1.1, 0, 0), WallFriction::blasius).kg_per_second == 0);
}

TEST_CASE("friction factors: laminar is 64/Re, and neither law exceeds the other pair by 6 %") {
  CHECK(friction_factor(500, WallFriction::all_regimes) == Approx(64.0 / 500).epsilon(1e-3));
  for (double re = 20; re < 1e5; re *= 1.1) {
    const double above = std::max(64 / re, friction_factor(re, WallFriction::blasius));
    CHECK(friction_factor(re, WallFriction::all_regimes) <= 1.06 * above);
  }
}

TEST_CASE("K3c constant net pull against the contact of a coil: tanh") {
  const double a = 1e-3, b = 0.20 * 3.0;
  CHECK(riccati_at({a, 0, -b}, 0, 50) == Approx(0.0343357).epsilon(1e-5));
  CHECK(riccati_at({a, 0, -b}, 0, 1e6) == Approx(0.0408248).epsilon(1e-5));
  CHECK(std::isinf(riccati_at({a, 0, b}, 1, 1e3)));
}
