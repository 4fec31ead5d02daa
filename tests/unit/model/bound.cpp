// Bounds of one piece against fine integration of the force balance over it (Runge-Kutta, 2,000 steps).
#include "model/blow_bound.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <initializer_list>

#include "model/riccati.h"

using namespace plan;

namespace {

// Air whose pull falls upstream, like that beside a unit: k g/(2 p), p^2 = q + g s from the lower end.
struct Air {
  double k = 3e-6, g = 0, q = 1e10;
  double at(double s) const { return k * g / (2 * std::sqrt(q + g * s)); }
  Pull over(double length) const { return {k * (std::sqrt(q + g * length) - std::sqrt(q)), at(length)}; }
};

double integrated(const Rub& r, const Piece& p, double f, const Air& air, double run) {
  const auto rate = [&](double s, double force) {
    const double coil = force > 0 ? r.buckling * force * force : 0;
    return r.friction * (std::hypot(p.weight, r.turning * force) + coil) + p.grade - air.at(s);
  };
  const int steps = 2000;
  const double h = run / steps;
  for (int i = 0; i < steps && f < 1e6; ++i) {
    const double s = i * h, k1 = rate(s, f), k2 = rate(s + h / 2, f + h / 2 * k1),
                 k3 = rate(s + h / 2, f + h / 2 * k2), k4 = rate(s + h, f + h * k3);
    f += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return f;
}

double share(uint64_t& state) {
  state = state * 6364136223846793005ULL + 1442695040888963407ULL;
  return static_cast<double>(state >> 11) * 0x1p-53;
}

}  // namespace

TEST_CASE("the bound of a piece is above the truth, and near it") {
  uint64_t state = 7;
  double gap = 0;
  int counted = 0;
  for (int i = 0; i < 3000; ++i) {
    CAPTURE(i);
    const double sine = i % 4 == 0 ? 1 : i % 4 == 1 ? -1 : 0.2 * (share(state) - 0.5);
    const double weight = 0.011, length = 1 + 24 * share(state);
    const Piece p{0, length, weight * std::sqrt(1 - sine * sine), weight * sine, 1, 0};
    const Rub r{0.05 + 0.4 * share(state), 0.2 * share(state), 0.5 * share(state)};
    const Air air{3e-6, 3e9 * share(state) * share(state), 1e10 + 1e12 * share(state) * share(state)};
    const double start = (share(state) - 0.6) * (i % 3 == 0 ? 0.05 : 1),
                 truth = integrated(r, p, start, air, length);
    const double bound = across(r, p, start, air.over(length));
    CHECK(bound >= truth - 1e-9);
    if (truth < 0.3) gap += std::min(bound - truth, 1.0), ++counted;
    if (start >= 0)  // and for heads at any place of the piece
      for (const double part : {0.2, 0.6, 1.0})
        CHECK(with_heads_inside(r, p, start, air.over(length)) >=
              integrated(r, p, 0, air, part * length) - 1e-9);
  }
  CHECK(counted > 2000);
  CHECK(gap / counted < 0.02);
}

TEST_CASE("a bound is exact without air where weight and turning do not meet") {
  const Rub r{0.2, 0.1, 0.5};
  const Piece riser{0, 20, 0, 0.011, 1, 0};  // vertical: no weight on the wall
  for (const double start : {-0.15, -0.1, -0.02, 0.0, 0.1})
    CHECK(across(r, riser, start, {}) ==
          doctest::Approx(integrated(r, riser, start, {3e-6, 0, 1e10}, 20)).epsilon(1e-6));
}

TEST_CASE("bends: tension loosens backward, compression grows, stiffness adds") {
  const Piece bend{0, 0, 0, 0, 1.5, 0.03};
  CHECK(through_bend(0.1, bend) == doctest::Approx((0.1 + 0.03) * 1.5 + 0.03));
  CHECK(through_bend(-0.5, bend) == doctest::Approx((-0.5 + 0.03) / 1.5 + 0.03));
}

TEST_CASE("the Riccati form against its own zero and its divergence") {
  // From 1 down to zero and back: a < 0 pulls it down.
  const Riccati r{-0.02, 0.01, 0.005};
  const double zero = riccati_zero(r, 1);
  CHECK(riccati_at(r, 1, zero) == doctest::Approx(0).epsilon(1e-9));
  CHECK(riccati_at(r, 1, zero / 2) > 0);
  CHECK(std::isinf(riccati_zero({0.02, 0, 0}, 1)));
  CHECK(std::isinf(riccati_at({0, 0, 1}, 1, 1.0)));  // 1/(1 - s) diverges at 1
  CHECK(riccati_at({0, 0, 1}, 1, 0.5) == doctest::Approx(2));
  CHECK(riccati_at({0.5, 0, 0}, 1, 4) == doctest::Approx(3));
  CHECK(riccati_at({0, 0.5, 0}, 1, 2) == doctest::Approx(std::exp(1.0)));
}
