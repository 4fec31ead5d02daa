#include "model/riccati.h"

#include <cmath>
#include <limits>
#include <numbers>

namespace plan {

namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();
}

double riccati_at(const Riccati& r, double start, double s) {
  const double square = r.m * r.m / 4 - r.a * r.b, w = std::sqrt(std::abs(square));
  double even = 1, odd = s;  // cosh and sinh/w over cosh; cos and sin/w
  if (square > 0) {
    odd = std::tanh(w * s) / w;
  } else if (square < 0) {
    if (w * s >= std::numbers::pi) return infinity;
    even = std::cos(w * s);
    odd = std::sin(w * s) / w;
  }
  const double below = even - (r.b * start + r.m / 2) * odd;
  if (below <= 0) return infinity;
  return (start * (even + r.m / 2 * odd) + r.a * odd) / below;
}

double riccati_zero(const Riccati& r, double start) {
  const double square = r.m * r.m / 4 - r.a * r.b, w = std::sqrt(std::abs(square));
  const double slope = start * r.m / 2 + r.a;
  if (square < 0) {
    const double angle = std::atan2(w * start, -slope);  // tan(w s) = -w start / slope, 0 < w s < pi
    return angle / w;
  }
  if (slope >= 0) return infinity;
  const double t = -start / slope;
  if (w == 0) return t;
  return w * t < 1 ? std::atanh(w * t) / w : infinity;
}

}  // namespace plan
