#include "base/quantity.h"

#include <doctest/doctest.h>

#include <cmath>
#include <type_traits>
#include <utility>

#include "base/money.h"

using namespace plan;
using doctest::Approx;

namespace {

template <class A, class B, class = void>
struct Adds : std::false_type {};
template <class A, class B>
struct Adds<A, B, std::void_t<decltype(std::declval<A>() + std::declval<B>())>> : std::true_type {};

// A mix of dimensions does not compile; a level is a point on a scale.
static_assert(Adds<Loss, Loss>::value && Adds<Level, Loss>::value && Adds<Length, Length>::value);
static_assert(!Adds<Level, Level>::value);
static_assert(!Adds<Length, Loss>::value && !Adds<Force, Angle>::value && !Adds<Pressure, Pressure>::value);
static_assert(!Adds<Money, UnitPrice>::value && !Adds<Work, Length>::value);
static_assert(std::is_same_v<decltype(dbm(3) - dbm(1)), Loss>);
static_assert(std::is_same_v<decltype(dbm(3) - decibels(1)), Level>);

}  // namespace

TEST_CASE("lengths are exact where they are summed") {
  CHECK(metres(0.0035) == millimetres(3.5));
  Length sum;
  for (int i = 0; i < 1000; ++i) sum += millimetres(0.1);
  CHECK(sum == millimetres(100));
  CHECK(in_metres(metres(1e6)) == 1e6);
  CHECK(metres(1000) / millimetres(500) == 2000.0);
  CHECK(to_whole_millimetres(Length::of_micrometres(1500)) == 2);
  CHECK(to_whole_millimetres(Length::of_micrometres(1499)) == 1);
  CHECK(to_whole_millimetres(Length::of_micrometres(-1500)) == -2);
  CHECK(rounded_to_millimetres(metres(1.2345678)) == millimetres(1235));
  CHECK(scaled(metres(100), 1.03) == metres(103));
  CHECK(metres(2) * 3 - metres(1) == metres(5));
  CHECK(-metres(2) < Length{});
}

TEST_CASE("pressures are absolute inside and read as gauge") {
  CHECK(in_pascals(bar_gauge(10)) == Approx(1101325));
  CHECK(in_bar_gauge(bar_absolute(1.01325)) == Approx(0));
  CHECK(in_bar_gauge(bar_gauge(8.5)) == Approx(8.5));
  CHECK(bar_absolute(10) < bar_gauge(10));
  CHECK(Pressure{} == bar_gauge(0));
}

TEST_CASE("levels and losses") {
  CHECK(in_decibels(dbm(2) - dbm(-28)) == Approx(30));
  CHECK(in_dbm(dbm(2) - decibels(25)) == Approx(-23));
  CHECK(in_decibels(decibels_per_kilometre(0.36) * metres(2500)) == Approx(0.9));
  CHECK(decibels(3) * 2 == decibels(6));
  CHECK(decibels(6) / decibels(3) == 2.0);
}

TEST_CASE("angles, work") {
  CHECK(in_radians(degrees(180)) == Approx(3.14159265358979));
  CHECK(in_degrees(radians(1)) == Approx(57.2957795));
  CHECK(hours(8) * 2 + minutes(30) == minutes(990));
  CHECK(hours(1) > minutes(59));
}

TEST_CASE("published units: 264 lbf, 30 psi (derived from exact definitions)") {
  // A pound-force is 4.4482216152605 N, a pound-force per square inch 6894.757 Pa.
  CHECK(in_newtons(newtons(264 * 4.4482216152605)) == Approx(1174.3).epsilon(1e-4));
  CHECK(in_bar_gauge(Pressure::of_pascals(101325 + 30 * 6894.757)) == Approx(2.068).epsilon(5e-4));
}

TEST_CASE("money is rounded once, half up") {
  CHECK(UnitPrice{1550}.times_metres(metres(1200)) == Money{18600});  // 0.155 a metre
  CHECK(UnitPrice{50}.times_pieces(1) == Money{1});                   // half a cent, up
  CHECK(UnitPrice{49}.times_pieces(1) == Money{0});
  CHECK(UnitPrice{10000}.times_metres(millimetres(5)) == Money{1});
  CHECK(UnitPrice{10000}.times_metres(millimetres(4)) == Money{0});
  // 90,000 km at 10,000 a metre still fits.
  CHECK(UnitPrice{100000000}.times_metres(metres(9e7)) == Money{90000000000000});
  Money m{100};
  m += Money{-30};
  CHECK(m == Money{70});
  CHECK(m * 3 == Money{210});
  // Each amount is rounded once, so a sum of amounts is exact: three thirds of a cent stay three roundings.
  CHECK(UnitPrice{33}.times_pieces(3) == Money{1});
}
