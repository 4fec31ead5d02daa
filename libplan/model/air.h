// Air in a microduct, and what it does to a unit.
//
//   d(p^2)/ds = -lambda R T (flow/area)^2 / Dh     isothermal ideal gas, acceleration neglected
//   drag per metre = k |dp/ds|,   k = (pi/4) unit bore    (equal shear on both walls, unit at rest)
//
// The unit lies in 0 … head, the bore beyond is bare; one flow through both. A choked exit keeps the
// pressure at which the air leaves at the speed sqrt(R T). Sources: the long-pipe formula (Encyclopaedia
// Britannica, 11th ed., "Hydraulics"); Blasius 0.3164 Re^-1/4; Churchill 1977 for all regimes (from
// memory); annulus drag after Bird, Stewart, Lightfoot, Transport Phenomena; viscosity 1.82e-5 Pa s at
// 20 C, with temperature after Sutherland (US Standard Atmosphere 1976, S = 110.4 K).
//
//   AirLine bare{millimetres(3.5), {}, metres(1000), {}, bar_gauge(10), celsius(20)};
//   double litres = free_air(air_flow(bare, WallFriction::all_regimes)) * 60000;   // 18.5 a minute
//
// Flows are kg/s, drag coefficients m2, air speeds m/s, friction factors and ratios plain numbers.
// Compressed air hurts: pressures here plan a job, the weakest part and local codes rule it.
#pragma once
#include "base/quantity.h"

namespace plan {

inline constexpr double ambient_pascals = 101325.0;  // one standard atmosphere
// R T of dry air, J/kg; R = 287.05 J/(kg K).
double specific_gas_energy(Temperature air);
double air_viscosity(Temperature air);  // Pa s

enum class WallFriction { blasius, all_regimes };
// Darcy friction factor of a smooth wall.
double friction_factor(double reynolds, WallFriction law);

struct AirLine {
  Length bore;
  Length unit;      // outside diameter; 0 = bare throughout
  Length length;    // the whole duct, open at the far end
  Length occupied;  // the unit's head, 0 … length
  Pressure inlet;
  Temperature air = celsius(20);
};

struct AirFlow {
  double kg_per_second = 0;
  Pressure at_head;  // where the unit's head stands
  Pressure exit;     // ambient, or higher where the exit chokes
};
// Steady flow, explicit for Blasius, bisected to 1e-9 for all regimes. No flow at or below ambient
// pressure, in a duct of no length, or past a unit that fills the bore.
AirFlow air_flow(const AirLine& line, WallFriction law);

// Free air at 20 C and one atmosphere, m3/s (density 1.20412 kg/m3).
double free_air(const AirFlow& flow);
double air_speed(double kg_per_second, double area_m2, Pressure at, Temperature air);
// Reynolds number of a section: occupied by a unit, or bare with a unit of no diameter.
double reynolds(double kg_per_second, Length bore, Length unit, Temperature air);
double flow_area(Length bore, Length unit);  // m2

// Pressure gradient beside the unit over that of the bare bore at the same flow, Blasius:
// (A bare/A occupied)^1.75 (D/(D-d))^1.25.
double occupied_gradient_ratio(Length bore, Length unit);
// Pressure at s on a uniform section of length x: sqrt(p_i^2 - (p_i^2 - p_x^2) s/x).
Pressure pressure_along(Pressure inlet, Pressure end, double share);

double drag_coefficient(Length bore, Length unit);          // equal shear: (pi/4) d D
double laminar_drag_coefficient(Length bore, Length unit);  // (pi/2)(r2^2-r1^2)/ln(r2/r1), concentric
// Drag on a unit at the speed v where the air has speed u: f = k(v) |dp/ds|, both of them smaller than
// at rest. `drag` and `gradient` are the shares that are left; v >= u leaves no drag to count on.
struct MovingShare {
  double drag = 1;
  double gradient = 1;
};
MovingShare moving_share(Length bore, Length unit, double unit_speed, double air_speed);

// Time until the bare duct is filled and the flow steady, s: A L mean pressure / (R T flow), with
// mean pressure (2/3)(p_i^3 - p_e^3)/(p_i^2 - p_e^2).
double fill_seconds(const AirLine& line, const AirFlow& flow);

}  // namespace plan
