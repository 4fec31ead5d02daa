#include "model/blow_bound.h"

#include <algorithm>
#include <cmath>

#include "model/riccati.h"

namespace plan {

namespace {

// F' = dead + grip |F| + coil F^2 (the last for F > 0 only) over t, across any change of sign.
double flowed(const Riccati& pull, double f, double t) {
  const Riccati tension{pull.a, -pull.m, 0};
  if (f < 0) {
    const double zero = riccati_zero({-pull.a, -pull.m, 0}, -f);
    return zero >= t ? riccati_at(tension, f, t) : riccati_at(pull, 0, t - zero);
  }
  const double end = riccati_at(pull, f, t);
  if (end >= 0) return end;
  return riccati_at(tension, 0, f > 0 ? t - riccati_zero(pull, f) : t);
}

// The same for a force that pushes, under the constant pull `a` of slope and air. Root sum of squares is
// convex in F, so its chord up to a trial force lies above it; past the trial the plain sum does.
double pushed(const Rub& s, const Piece& p, double f, double a) {
  const double dead = a + s.friction * p.weight, coil = s.friction * s.buckling;
  const double top = 1.5 * f + std::max(0.0, dead) * p.length + 1e-3;
  const double turn = s.turning * top;
  const double slope = (std::sqrt(p.weight * p.weight + turn * turn) - p.weight) / top;
  const double end = flowed({dead, s.friction * slope, coil}, f, p.length);
  if (std::abs(end) <= top) return end;
  return flowed({dead, s.friction * s.turning, coil}, f, p.length);
}

}  // namespace

double through_bend(double f, const Piece& p) {
  f += p.catch_force;
  f = f > 0 ? f * p.capstan : f / p.capstan;
  return f + p.catch_force;
}

double with_heads_inside(const Rub& s, const Piece& p, double f, const Pull& air) {
  const double a = p.grade - air.least;
  if (f == 0 && a + s.friction * p.weight <= 0) return 0;
  return std::max(0.0, pushed(s, p, f, a));
}

double across(const Rub& s, const Piece& p, double f, const Pull& air) {
  if (f <= 0) {
    // In tension throughout: contact at the largest tension it can reach. The pull falls upstream, so
    // F is convex and stays below 0 between two ends that are.
    const double turn = s.turning * (-f + air.whole + std::max(0.0, -p.grade) * p.length);
    const double end =
        f + (s.friction * std::sqrt(p.weight * p.weight + turn * turn) + p.grade) * p.length - air.whole;
    if (end <= 0) return end;
  }
  // Else the least pull throughout, and the rest as a relief: a difference of two solutions fades no
  // faster than e^(-mu turning s), so at least that share of the rest is left at the upstream end.
  const double a = p.grade - air.least, grip = s.friction * s.turning;
  const double end = f > 0 ? pushed(s, p, f, a)
                           : flowed({a + s.friction * p.weight, grip, s.friction * s.buckling}, f, p.length);
  return end - std::exp(-grip * p.length) * std::max(0.0, air.whole - air.least * p.length);
}

}  // namespace plan
