// The one differential equation of pushing, in closed form:  F' = a + m F + b F^2.
//
// a: dead weight, slope and air; m: capstan friction of a winding duct; b: contact of a coiled unit.
// Private to the model folder; amounts are SI doubles (N, m).
//
// Solution (linear fractional in F0, by u'' - m u' + a b u = 0, F = -u'/(b u); any text on the Riccati
// equation): with w^2 = m^2/4 - a b and t = tanh(w s)/w (tan for w^2 < 0, s for w = 0),
//   F(s) = (F0 (1 + m t/2) + a t) / (1 - (b F0 + m/2) t).
#pragma once

namespace plan {

struct Riccati {
  double a = 0, m = 0, b = 0;
};

// F at distance s; +infinity where the solution has diverged before s.
double riccati_at(const Riccati& r, double start, double s);
// The first s >= 0 at which F = 0, start > 0; +infinity where it never is.
double riccati_zero(const Riccati& r, double start);

}  // namespace plan
