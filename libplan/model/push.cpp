#include "model/push.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/riccati.h"

namespace plan {

namespace {

using std::numbers::pi;

double normal_weight(const Rubbing& r) {
  return r.weight * std::sqrt(std::max(0.0, 1 - r.slope_sine * r.slope_sine));
}

Riccati downstream(const Rubbing& r) {
  return {-(r.friction * normal_weight(r) + r.weight * r.slope_sine), -r.friction * r.turning,
          -r.friction * r.buckling};
}

Length capped(double m) {
  return m < in_metres(farthest) ? metres(m) : farthest;
}

}  // namespace

Length clearance(const BlowUnit& unit, const BlowBore& bore) {
  return Length::of_micrometres((bore.id - unit.od).micrometres() / 2);
}

Rubbing rubbing(const BlowUnit& unit, const BlowBore& bore, double friction) {
  const double ei = in_newton_square_metres(unit.stiffness);
  return {friction, in_grams_per_metre(unit.mass) / 1000 * standard_gravity,
          ei > 0 ? in_metres(bore.id - unit.od) / 2 / (4 * ei) : 0, 0, 0};
}

Force push_after(Force start, Length run, const Rubbing& r) {
  if (start <= newtons(0)) return newtons(0);
  if (riccati_zero(downstream(r), in_newtons(start)) <= in_metres(run)) return newtons(0);
  return newtons(riccati_at(downstream(r), in_newtons(start), in_metres(run)));
}

Length push_reach(Force start, const Rubbing& r) {
  if (start <= newtons(0)) return {};
  return capped(riccati_zero(downstream(r), in_newtons(start)));
}

Length lock_up(const Rubbing& r) {
  const double root = 2 * r.friction * std::sqrt(r.buckling * r.weight);
  return root > 0 ? capped(pi / root) : farthest;
}

Force snaking_force(const BlowUnit& unit, const BlowBore& bore) {
  const Rubbing r = rubbing(unit, bore, 0);
  const double gap = in_metres(bore.id - unit.od) / 2;
  return newtons(gap > 0 ? 2 * std::sqrt(in_newton_square_metres(unit.stiffness) * r.weight / gap) : 0);
}

Force coiling_force(const BlowUnit& unit, const BlowBore& bore) {
  return snaking_force(unit, bore) * std::numbers::sqrt2;
}

CoiledReach coiled_reach(Force start, const BlowUnit& unit, const BlowBore& bore, double friction) {
  const Rubbing r = rubbing(unit, bore, friction);
  const double coil = in_newtons(coiling_force(unit, bore)), first = in_newtons(start);
  if (first <= coil) return {{}, capped(std::max(0.0, first) / (friction * r.weight))};
  return {capped((1 / coil - 1 / first) / (friction * r.buckling)), capped(coil / (friction * r.weight))};
}

Force winding_after(Force start, Length run, const Rubbing& r) {
  const double scale = r.weight / r.turning;
  const double left = std::asinh(in_newtons(start) / scale) - r.friction * r.turning * in_metres(run);
  return newtons(std::max(0.0, scale * std::sinh(left)));
}

Length winding_reach(Force start, const Rubbing& r) {
  const double angle = std::asinh(in_newtons(start) * r.turning / r.weight);
  return capped(angle / (r.friction * r.turning));
}

Force after_bend(Force before, Angle bend, double friction) {
  const double grip = friction * in_radians(bend);
  return before * std::exp(before > newtons(0) ? -grip : grip);
}

Force bend_contact(const BlowUnit& unit, const BlowBore& bore, Length radius) {
  const double gap = in_metres(bore.id - unit.od) / 2, bend = in_metres(radius);
  return newtons(in_newton_square_metres(unit.stiffness) / (bend * std::sqrt(48 * bend * gap)));
}

double undulation_turning(Length amplitude, Length period) {
  return 8 * pi * in_metres(amplitude) / (in_metres(period) * in_metres(period));
}

Force undulation_contact(Stiffness ei, Length amplitude, Length period) {
  const double square = in_metres(period) * in_metres(period);
  return newtons(32 * pi * pi * pi * in_newton_square_metres(ei) * in_metres(amplitude) / (square * square));
}

}  // namespace plan
