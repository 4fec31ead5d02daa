// Pushing a unit into a duct, without air: closed forms.
//
//   dF/ds = -(mu n + W sin a),   n = W cos a + |F| turning + buckling F^2     (F: compression, N)
//
// Straight friction F = F0 - mu W s; a coiled unit presses on the wall with buckling F^2,
// buckling = clearance / (4 EI), and locks up at a length no push exceeds. Sources: force balance of a
// rod in a tube (Miller, J. Appl. Mech. 82 021003, 2015; Thompson et al., Proc. R. Soc. A 468, 2012),
// worked through and checked in this project's reference values; buckling F^2 after Lubinski and Mitchell.
//
//   Rubbing r = rubbing(unit, bore, 0.20);
//   Length reach = push_reach(newtons(0.5), r);             // 40 m for 1.1 mm in 3.5 mm
//
// Every function is exact for its own equation; none looks at fill or at the smallest bend radius.
#pragma once
#include <span>

#include "base/quantity.h"

namespace plan {

inline constexpr double standard_gravity = 9.80665;  // m/s2, exact by definition (CGPM 1901)

// What is blown.
struct BlowUnit {
  Length od;
  LinearMass mass;
  Stiffness stiffness;
};
struct BlowBore {
  Length id;
};

// How a unit rubs along one run of duct.
struct Rubbing {
  double friction = 0;    // Coulomb, unit on duct wall
  double weight = 0;      // N/m
  double buckling = 0;    // 1/(N m); 0 = a unit that does not coil
  double turning = 0;     // rad turned per metre of laid duct
  double slope_sine = 0;  // uphill positive in the direction of the blow
};
// Level and straight; the caller sets turning and slope.
Rubbing rubbing(const BlowUnit& unit, const BlowBore& bore, double friction);
// Half the room between unit and wall; zero or less where the unit does not fit.
Length clearance(const BlowUnit& unit, const BlowBore& bore);

// Push left after a run: 0 once the unit has stopped.
Force push_after(Force start, Length run, const Rubbing& r);
// How far a push gets on an endless run; Length of `farthest` where it never stops (steep downhill).
inline constexpr Length farthest = Length::of_micrometres(1'000'000'000'000);  // 1,000 km
Length push_reach(Force start, const Rubbing& r);
// The reach that no push exceeds on a straight level run: pi / (2 mu sqrt(buckling W)).
Length lock_up(const Rubbing& r);

// Push at which the unit first snakes, F_sin = 2 sqrt(EI W/clearance), and coils, F_hel = sqrt(2) F_sin.
Force snaking_force(const BlowUnit& unit, const BlowBore& bore);
Force coiling_force(const BlowUnit& unit, const BlowBore& bore);
// Reach when the coil alone rubs down to F_hel and the dead weight alone after it.
struct CoiledReach {
  Length coiled, straight;
};
CoiledReach coiled_reach(Force start, const BlowUnit& unit, const BlowBore& bore, double friction);

// Root-sum-square of weight and turning, no coil: F = (W/t) sinh(asinh(F0 t/W) - mu t s), level.
Force winding_after(Force start, Length run, const Rubbing& r);
Length winding_reach(Force start, const Rubbing& r);

// Through a bend in the direction of the blow: compression shrinks by e^(-mu angle), tension grows.
Force after_bend(Force before, Angle bend, double friction);
// Sideways force of the unit's own stiffness at each of the four contacts of a bend,
// Q = EI / (R sqrt(48 R clearance)); its friction, 4 mu Q a bend, decides at tight bends.
Force bend_contact(const BlowUnit& unit, const BlowBore& bore, Length radius);

// Undulation y = A sin(2 pi s/P): turning 8 pi A/P^2, and contact per metre 32 pi^3 EI A/P^4.
double undulation_turning(Length amplitude, Length period);               // rad/m
Force undulation_contact(Stiffness ei, Length amplitude, Length period);  // N on each metre

}  // namespace plan
