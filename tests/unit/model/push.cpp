// Closed forms of pushing against the reference values (derived by
// hand from the force balance, with two solvers beside them).
#include "model/push.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace plan;

namespace {

using doctest::Approx;

// 0.0110 N/m, 1.1 mm, EI 1e-4 N m2, in a bore of 3.5 mm: buckling = 3.0 /(N m).
const BlowUnit unit{millimetres(1.1), grams_per_metre(11 / standard_gravity), newton_square_metres(1e-4)};
const BlowBore bore{millimetres(3.5)};
Rubbing plain() {
  Rubbing r = rubbing(unit, bore, 0.20);
  r.buckling = 0;
  return r;
}
double reach(double newton, const BlowUnit& u, double mm, double friction) {
  return in_metres(push_reach(newtons(newton), rubbing(u, {millimetres(mm)}, friction)));
}

}  // namespace

TEST_CASE("push on the level: force and reach") {
  CHECK(in_newtons(push_after(newtons(1), metres(200), plain())) == Approx(0.56).epsilon(1e-5));
  CHECK(in_metres(push_reach(newtons(1), plain())) == Approx(454.545).epsilon(1e-5));
}

TEST_CASE("push uphill 5 degrees") {
  Rubbing r = plain();
  r.slope_sine = std::sin(5 * std::numbers::pi / 180);
  CHECK(in_metres(push_reach(newtons(1), r)) == Approx(317.426).epsilon(1e-5));
}

TEST_CASE("contact of a coil from the first newton, and the length no push exceeds") {
  const Rubbing r = rubbing(unit, bore, 0.20);
  CHECK(r.buckling == Approx(3.0));
  CHECK(in_newtons(push_after(newtons(0.5), metres(20), r)) == Approx(0.0535004).epsilon(1e-5));
  CHECK(in_metres(push_reach(newtons(0.5), r)) == Approx(39.9176).epsilon(1e-5));
  CHECK(in_metres(lock_up(r)) == Approx(43.2347).epsilon(1e-5));
  CHECK(push_after(newtons(0.5), metres(41), r) == newtons(0));
}

TEST_CASE("coil, then dead weight") {
  CHECK(in_newtons(snaking_force(unit, bore)) == Approx(0.060553).epsilon(1e-5));
  CHECK(in_newtons(coiling_force(unit, bore)) == Approx(0.0856349).epsilon(1e-5));
  const CoiledReach r = coiled_reach(newtons(0.5), unit, bore, 0.20);
  CHECK(in_metres(r.coiled) == Approx(16.1291).epsilon(1e-5));
  CHECK(in_metres(r.straight) == Approx(38.9249).epsilon(1e-5));
  CHECK(coiled_reach(newtons(0.05), unit, bore, 0.20).coiled == Length{});
}

TEST_CASE("winding duct, root sum of squares; a right angle") {
  Rubbing r = plain();
  r.turning = 0.02;
  CHECK(in_newtons(winding_after(newtons(1), metres(150), r)) == Approx(0.458871).epsilon(1e-5));
  CHECK(in_metres(winding_reach(newtons(1), r)) == Approx(339.809).epsilon(1e-5));
  CHECK(in_newtons(after_bend(newtons(1), degrees(90), 0.20)) == Approx(0.730403).epsilon(1e-5));
  CHECK(in_newtons(after_bend(newtons(-1), degrees(90), 0.20)) == Approx(-1 / 0.730403).epsilon(1e-5));
}

TEST_CASE("five times a run of 40 m and a right angle") {
  Force f = newtons(2);
  for (int i = 0; i < 5; ++i) f = after_bend(push_after(f, metres(40), plain()), degrees(90), 0.20);
  CHECK(in_newtons(f) == Approx(0.226908).epsilon(1e-5));
}

TEST_CASE("undulation and the stiffness of a unit in a tight bend") {
  CHECK(undulation_turning(millimetres(20), metres(2)) == Approx(0.125664).epsilon(1e-5));
  CHECK(in_newtons(undulation_contact(unit.stiffness, millimetres(20), metres(2))) ==
        Approx(1.24025e-4).epsilon(1e-5));
  const double q = in_newtons(bend_contact(unit, bore, millimetres(50)));
  CHECK(q == Approx(0.0372678).epsilon(1e-5));
  CHECK(4 * 0.20 * q == Approx(0.0298142).epsilon(1e-5));
}

TEST_CASE("a micro cable, pushed only") {
  const BlowUnit cable{millimetres(6), grams_per_metre(28), newton_square_metres(0.15)};
  const BlowBore wide{millimetres(10)};
  CHECK(in_newtons(snaking_force(cable, wide)) == Approx(9.076115).epsilon(1e-5));
  CHECK(in_newtons(coiling_force(cable, wide)) == Approx(12.835565).epsilon(1e-5));
  CHECK(reach(50, cable, 10, 0.10) == Approx(459.854).epsilon(1e-5));
  CHECK(reach(100, cable, 10, 0.10) == Approx(489.290).epsilon(1e-5));
  CHECK(in_metres(lock_up(rubbing(cable, wide, 0.10))) == Approx(519.207).epsilon(1e-5));
}

TEST_CASE("pushed only, straight, whole metres") {
  const BlowUnit thin{millimetres(1.1), grams_per_metre(1.1), newton_square_metres(1e-4)};
  const BlowUnit mini{millimetres(2.3), grams_per_metre(5), newton_square_metres(1.4e-3)};
  const BlowUnit micro{millimetres(5.2), grams_per_metre(25), newton_square_metres(0.09)};
  CHECK(std::lround(reach(0.5, thin, 3.5, 0.20)) == 40);
  CHECK(std::lround(reach(2, thin, 3.5, 0.20)) == 43);
  CHECK(std::lround(reach(0.5, thin, 5.5, 0.20)) == 30);
  CHECK(std::lround(reach(2, mini, 3.5, 0.15)) == 114);
  CHECK(std::lround(reach(5, mini, 3.5, 0.15)) == 132);
  CHECK(std::lround(reach(5, mini, 5.5, 0.15)) == 84);
  CHECK(std::lround(reach(20, micro, 8, 0.10)) == 386);
  CHECK(std::lround(reach(50, micro, 8, 0.10)) == 458);
}

TEST_CASE("a push that never stops, and one that never starts") {
  Rubbing r = plain();
  r.slope_sine = -0.5;  // steeper than the friction holds
  CHECK(push_reach(newtons(0.1), r) == farthest);
  CHECK(push_reach(newtons(0), plain()) == Length{});
  CHECK(push_reach(newtons(-1), plain()) == Length{});
  CHECK(clearance(unit, bore) == millimetres(1.2));
}
