// An independent solver of a blow: Runge-Kutta backward over the force balance, head by head. It shares
// no formula with libplan/model: plain SI doubles, its own air, its own bends.
#pragma once
#include <vector>

namespace oracle {

enum class Buckling { none, add, threshold, blend };

struct Part {                                // a run, then a bend (angle 0 = none)
  double run, sine, angle, radius, turning;  // m, -, rad, m, rad/m
};

struct Blow {
  double bore = 0.0035, unit = 0.0011, ei = 1e-4, weight = 0.010787315;  // m, m, N m2, N/m
  double friction = 0.2;
  double inlet = 1101325;  // Pa absolute
  double speed = 0;        // m/s of the unit
  Buckling buckling = Buckling::add;
  double step = 2;  // m
  std::vector<Part> route = {};
};

double length_of(const Blow& b);
// Force needed at the feed for a head at x; infinity where it diverges. A bend exactly at the head is
// entered only if `past_bend`.
double needed(const Blow& b, double x, bool past_bend = false);
// Flow with the head at x, kg/s.
double flow(const Blow& b, double x);
// Largest force over `heads` equal steps and both sides of each bend.
double largest_needed(const Blow& b, int heads = 24);

}  // namespace oracle
