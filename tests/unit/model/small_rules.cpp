// Bends, colours, durations, duct tests, counts and prices against the figures named beside each.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <string>

#include "base/check.h"
#include "model/bend.h"
#include "model/colour.h"
#include "model/duct_test.h"
#include "model/duration.h"
#include "model/price.h"

using namespace plan;
using doctest::Approx;

namespace {

const ColourOrder tia{{"blue", "orange", "green", "brown", "slate", "white", "red", "black", "yellow",
                       "violet", "rose", "aqua"},
                      {"black tracer"},
                      {{20, "black, yellow tracer"}}};
const ColourOrder iec{{"red", "green", "blue", "yellow", "white", "grey", "brown", "violet", "turquoise",
                       "black", "orange", "pink"},
                      {"black ring"},
                      {{22, "transparent, black ring"}}};

}  // namespace

TEST_CASE("bundle radius by laying temperature, and the largest minimum of a section") {
  // Out of order on purpose: the points are data.
  const std::array points{BendPoint{celsius(10), metres(2.0)}, BendPoint{celsius(20), metres(1.0)},
                          BendPoint{celsius(0), metres(2.5)}};
  const auto at = [&](double t) { return bundle_bend_radius(celsius(t), points); };
  CHECK(at(20).radius == metres(1.0));
  CHECK(at(15).radius == metres(1.5));
  CHECK(at(10).radius == metres(2.0));
  CHECK(at(0).radius == metres(2.5));
  CHECK(at(5).radius == metres(2.25));
  CHECK_FALSE(at(0).extrapolated);
  CHECK(at(-5).radius == metres(2.5));
  CHECK(at(-5).extrapolated);
  CHECK(at(30).radius == metres(1.0));
  CHECK(at(30).extrapolated);
  CHECK(bundle_bend_radius(celsius(5), {}).extrapolated);

  const std::array section{millimetres(50), millimetres(70), millimetres(300), at(10).radius};
  CHECK(smallest_bend_radius(section) == metres(2));
  CHECK(smallest_bend_radius({}) == Length{});
  CHECK(radius_by_diameter(millimetres(12), 10) == millimetres(120));
  CHECK(radius_by_diameter(millimetres(6.1), 20) == millimetres(122));
}

TEST_CASE("ANSI/TIA-598-D: fibre 23 of 48, 1, 12, and the tracer round") {
  CHECK(tube_place(23, 12) == TubePlace{2, 11});
  CHECK(colour_at(tia, tube_place(23, 12).tube) == "orange");
  CHECK(colour_at(tia, tube_place(23, 12).position) == "rose");
  CHECK(colour_at(tia, 1) == "blue");
  CHECK(colour_at(tia, 12) == "aqua");
  CHECK(colour_at(tia, 13) == "blue, black tracer");
  CHECK(colour_at(tia, 20) == "black, yellow tracer");
  CHECK(colour_at(tia, 24) == "aqua, black tracer");
  CHECK_FALSE(colour_at(tia, 25).has_value());
  CHECK_FALSE(colour_at(tia, 0).has_value());
  CHECK(positions_of(tia) == 24);
}

TEST_CASE("the IEC 60304 set in the order of DIN VDE 0888") {
  CHECK(colour_at(iec, 1) == "red");
  CHECK(colour_at(iec, 9) == "turquoise");
  CHECK(colour_at(iec, 12) == "pink");
  CHECK(colour_at(iec, 22) == "transparent, black ring");
  CHECK(colour_at(iec, 13) == "red, black ring");
  CHECK_FALSE(colour_at({}, 1).has_value());
}

TEST_CASE("tube and position of every fibre of a cable and back") {
  for (const int per_tube : {1, 4, 8, 12})
    for (int n = 1; n <= 48; ++n) {
      const TubePlace p = tube_place(n, per_tube);
      CHECK(p.position >= 1);
      CHECK(p.position <= per_tube);
      CHECK(fibre_number(p, per_tube) == n);
    }
  CHECK(tube_place(12, 12) == TubePlace{1, 12});
  CHECK(tube_place(13, 12) == TubePlace{2, 1});
  CHECK_THROWS_AS(tube_place(0, 12), BrokenInvariant);
}

TEST_CASE("mandrel 0.85 of the bore (IEC 60794-5-10 Annex E, as reproduced)") {
  CHECK(mandrel(millimetres(3.5), 0.85) == millimetres(2.975));
  CHECK(mandrel(millimetres(8), 0.85) == millimetres(6.80));
  CHECK(mandrel(millimetres(10), 0.85) == millimetres(8.50));
}

TEST_CASE("pressure: 10 to 9.0 bar in 2 min passes, to 8.9 fails; 5 K of cooling reads 0.188 bar less") {
  const auto held = [](double end) { return pressure_test({bar_gauge(10)}, {bar_gauge(end)}, 2, 0.5); };
  CHECK(held(9.0).passes);
  CHECK_FALSE(held(8.9).passes);
  CHECK(held(8.9).fall_bar == Approx(1.1));
  CHECK(held(9.5).allowed_bar == Approx(1.0));
  const Pressure cooled = at_temperature({bar_gauge(10), celsius(20)}, celsius(15));
  CHECK(in_bar_gauge(cooled) - 10 == Approx(-0.188).epsilon(2e-3));
  CHECK(in_bar_gauge(at_temperature({bar_gauge(10), celsius(20)}, celsius(19))) - 10 ==
        Approx(-0.0376).epsilon(2e-3));
  // The same reading is no leak at all once the cooling is known.
  const PressureVerdict v = pressure_test({bar_gauge(10), celsius(20)}, {cooled, celsius(15)}, 30, 0);
  CHECK(v.fall_bar == Approx(0).epsilon(1e-9));
  CHECK(v.passes);
}

TEST_CASE("blowing time: 1,000 m at 25 and 50 m/min, and slowing from 50 to 20") {
  const auto at = [](double speed) { return duration({RateKind::net, speed}, 1000, {}); };
  CHECK(at(25) == minutes(40));
  CHECK(at(50) == minutes(20));
  CHECK(blow_minutes(metres(1000), metres_per_minute(50), metres_per_minute(20)) ==
        Approx(30.54).epsilon(3e-4));
  CHECK(blow_minutes(metres(1000), metres_per_minute(25), metres_per_minute(25)) == Approx(40));
}

TEST_CASE("144 fibres spliced at one place; 90 splices in a day of 8 h") {
  const OutputRate splice{RateKind::net, 1 / 5.0, minutes(30)};
  CHECK(duration(splice, 144, {}) == minutes(750));
  CHECK(done_within(splice, hours(8), {}) == Approx(90));
  Working usual;
  usual.utilisation = 0.70;
  CHECK(duration(splice, 144, usual) == minutes(30 + 1029));  // 720 / 0.7 = 1028.6, rounded up once
  CHECK(duration(splice, 0, {}) == Work{});
}

TEST_CASE("600 m of paved open cut at 40 m a crew-day; visits per success") {
  const OutputRate dig{RateKind::gross, 40};
  Working w;
  w.utilisation = 0.70;  // never on a gross rate
  CHECK(duration(dig, 600, w) == hours(8) * 15);
  w.weather = 0.8;
  CHECK(duration(dig, 600, w) == minutes(9000));
  CHECK(duration(dig, 601, {}) == minutes(7212));
  CHECK(visits_per_success(0.25) == Approx(1.3333).epsilon(1e-4));
  CHECK_THROWS_AS(duration({RateKind::net, 0}, 1, {}), BrokenInvariant);
}

TEST_CASE("ports: 1,000 homes, take-up 0.4, split 32, utilisation 0.85") {
  CHECK(central_ports(1000, 0.4, 32, 0.85) == Ports{15, 37});
  CHECK(fixed_cascade_ports(1000, 32, 0.85) == Ports{37, 37});
  CHECK(ports_needed(320, 1, 32, 1) == 10);  // no eleventh for a rounding of doubles
  CHECK(ports_needed(0, 1, 32, 0.85) == 0);
}

TEST_CASE("fibres of buildings with 1, 4, 9 units, at least 4 (a German county project)") {
  CHECK(fibres_for_building(1, 1, 4) == 4);
  CHECK(fibres_for_building(4, 1, 4) == 4);
  CHECK(fibres_for_building(9, 1, 4) == 9);
  CHECK(spare_of(20, 0.15, 1) == 3);
  CHECK(spare_of(2, 0.15, 1) == 1);
}

TEST_CASE("a village association's bill (SEK, 100 possible, 77 connected)") {
  const auto line = [](int64_t quantity, double rate) {
    return UnitPrice{static_cast<int64_t>(rate * 10000)}.times_pieces(quantity);
  };
  const Money dig = line(12700, 55), plough = line(9525, 35), crossings = line(10, 10000),
              joints = line(15, 5900);
  const Money blown = UnitPrice{20000}.times_metres(metres(45000)), splices = line(750, 351);
  const Money restored{20000000}, duct = UnitPrice{40000}.times_metres(metres(60000));
  const Money cable = line(5000, 16) + line(2500, 10.5) + line(5400, 8) + line(32000, 5),
              switches = line(77, 1000);
  const Money total =
      dig + plough + crossings + joints + blown + splices + restored + duct + cable + switches;
  CHECK(total == Money{240007500});
  CHECK(shared_over(total, 77) == Money{3116981});
  CHECK(share_of(dig + plough + crossings, total) == Approx(0.4716).epsilon(2e-4));
  CHECK(share_of(dig + plough + crossings + restored, total) == Approx(0.5549).epsilon(2e-4));
  CHECK(share_of(duct + cable, total) == Approx(0.2289).epsilon(2e-4));
  CHECK(share_of(blown + splices, total) == Approx(0.1472).epsilon(2e-4));
}

TEST_CASE("packs, metres and shares round once") {
  CHECK(packs_for(0, 10) == 0);
  CHECK(packs_for(1, 10) == 1);
  CHECK(packs_for(10, 10) == 1);
  CHECK(packs_for(11, 10) == 2);
  const std::array parts{UnitPrice{650000}, UnitPrice{12500}, UnitPrice{1550}};
  CHECK(price_of_metre(parts) == UnitPrice{664050});
  CHECK(shared_over(Money{5}, 2) == Money{3});  // half up
  CHECK(shared_over(Money{-5}, 2) == Money{-2});
  CHECK(shared_over(Money{-6}, 2) == Money{-3});
  CHECK(share_of(Money{5}, {}) == 0);
}
