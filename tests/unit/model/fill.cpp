// Fill and packing against published fill ratios and the circle-packing table, named beside each.
#include "model/fill.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>

using namespace plan;
using doctest::Approx;

namespace {
double fill(double outside, double bore) {
  return area_fill(millimetres(outside), millimetres(bore)) * 100;
}
double bundle(int ways, double tube) {
  return in_millimetres(bundle_outside(ways, millimetres(tube), millimetres(1.2)));
}
}  // namespace

TEST_CASE("packing ratios (best known circle packings; closed forms checked here)") {
  CHECK(packing_ratio(5) == Approx(2.7013).epsilon(1e-4));
  CHECK(packing_ratio(8) == Approx(3.3048).epsilon(1e-4));
  CHECK(packing_ratio(19) == Approx(4.8637).epsilon(1e-4));
  CHECK(packing_ratio(24) == Approx(5.6517).epsilon(1e-4));
  CHECK(packing_ratio(3) == Approx(1 + 2 / std::sqrt(3.0)).epsilon(1e-4));
  CHECK(packing_ratio(4) == Approx(1 + std::sqrt(2.0)).epsilon(1e-4));
  CHECK(packing_ratio(5) == Approx(1 + std::sqrt(2 * (1 + 1 / std::sqrt(5.0)))).epsilon(1e-4));
  CHECK(packing_ratio(19) == Approx(1 + std::sqrt(2.0) + std::sqrt(6.0)).epsilon(1e-4));
  CHECK(packing_ratio(6) == packing_ratio(7));
  CHECK(packing_ratio(18) == packing_ratio(19));
  CHECK(packing_ratio(0) == 0);
}

TEST_CASE("bundle diameters; a maker's 7 x 7 sheet prints 23.4 x 21.6") {
  CHECK(bundle(7, 7) == Approx(23.40).epsilon(1e-4));
  CHECK(bundle(24, 7) == Approx(41.96).epsilon(3e-4));
  CHECK(bundle(12, 10) == Approx(42.70).epsilon(3e-4));
  CHECK(bundle(4, 14) == Approx(36.2).epsilon(2e-3));  // table 3.2
  CHECK(bundle(19, 12) == Approx(60.8).epsilon(2e-3));
  CHECK(bundle(24, 3) == Approx(19.4).epsilon(3e-3));
}

TEST_CASE("rings round a core, and layered lay-ups: 19 = 5.000 d, 12 = 4.155 d, 24 = 6.000 d") {
  CHECK(ring_round(millimetres(6), millimetres(3)) == 9);
  CHECK(ring_round(millimetres(12), millimetres(3)) == 15);
  CHECK(ring_round(millimetres(3), millimetres(3)) == 6);
  CHECK(ring_round({}, millimetres(3)) == 0);
  CHECK(layered_ratio(19) == Approx(5.0));
  CHECK(layered_ratio(12) == Approx(4.155).epsilon(1e-4));
  CHECK(layered_ratio(24) == Approx(6.0));
  CHECK(layered_ratio(7) == Approx(3.0));
  for (int n = 1; n <= 24; ++n) CHECK(layered_ratio(n) >= packing_ratio(n));
  for (int n = 2; n <= 2000; ++n) CHECK(packing_ratio(n) >= packing_ratio(n - 1));
  // No packing of equal circles is denser than pi/sqrt(12) (Thue): n <= 0.9069 R^2.
  for (int n = 2; n <= 2000; ++n) CHECK(n <= 0.9069 * packing_ratio(n) * packing_ratio(n));
}

TEST_CASE("area fill in percent") {
  CHECK(fill(5.2, 8) == Approx(42.25));
  CHECK(fill(5.2, 10) == Approx(27.04));
  CHECK(fill(6.1, 8) == Approx(58.14).epsilon(1e-4));
  CHECK(fill(7.9, 10) == Approx(62.41));
  CHECK(fill(9.4, 12) == Approx(61.36).epsilon(1e-4));
  CHECK(fill(1.0, 3.5) == Approx(8.16).epsilon(1e-3));
  CHECK(fill(1.6, 3.5) == Approx(20.90).epsilon(1e-4));
  CHECK(fill(1.0, 2.1) == Approx(22.68).epsilon(3e-4));
  CHECK(diameter_ratio(millimetres(6), millimetres(10)) == Approx(0.6));
}

TEST_CASE("the widest cable within a fill (table 3.3)") {
  CHECK(in_millimetres(widest_within(millimetres(8), 0.65)) == Approx(6.450).epsilon(1.5e-4));
  CHECK(in_millimetres(widest_within(millimetres(8), 0.75)) == Approx(6.928).epsilon(1.5e-4));
  CHECK(in_millimetres(widest_within(millimetres(12), 0.80)) == Approx(10.73).epsilon(1e-3));
  CHECK(in_millimetres(widest_within(millimetres(3.5), 0.35)) == Approx(2.07).epsilon(1e-3));
  CHECK(widest_within(millimetres(8), 1) == millimetres(8));
  CHECK(area_fill(widest_within(millimetres(8), 0.65), millimetres(8)) <= 0.65);
}

TEST_CASE("bundles in a bore of 100 mm at 55 percent") {
  const Length bore = millimetres(100);
  const auto most = [&](double outside) { return most_in_bore(millimetres(outside), bore, 0.55); };
  CHECK(most(23.4) == 10);
  CHECK(most(32.4) == 5);
  CHECK(most(38.4) == 3);
  CHECK(most(44.4) == 2);
  CHECK(packing_ratio(10) * 23.4 == Approx(89.2).epsilon(1e-3));
  CHECK(packing_ratio(5) * 32.4 == Approx(87.5).epsilon(1e-3));
  // Where the area would let two in, they must also lie side by side: 2 x 52 > 100.
  CHECK(most(52) == 1);
  CHECK(most_in_bore(millimetres(101), bore, 0.55) == 0);
  CHECK(most_in_bore(millimetres(99), bore, 0.55) == 0);
  CHECK(most_in_bore(Length::of_micrometres(1), bore, 0.55) > 100000);
}

TEST_CASE("several unequal ones in a bore") {
  const std::array three{millimetres(40), millimetres(40), millimetres(32)};
  CHECK(area_fill(three, millimetres(100)) == Approx(0.4224));
  CHECK(fits_in_bore(three, millimetres(100), 0.55));
  CHECK_FALSE(fits_in_bore(three, millimetres(100), 0.40));  // by area
  CHECK_FALSE(fits_in_bore(three, millimetres(86), 0.60));   // three of 40 need 86.2
  CHECK(fits_in_bore({}, millimetres(86), 0.60));
  CHECK(area_fill(millimetres(1), {}) == std::numeric_limits<double>::infinity());
}

TEST_CASE("floor duct with two bends: 28 percent, linear (MIL-HDBK-1012/3)") {
  CHECK(bent_fill_limit(0.40, 0.15, 2) == Approx(0.28));
  CHECK(bent_fill_limit(0.40, 0.15, 7) == 0);
}
