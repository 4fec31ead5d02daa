// The ledger against published and worked figures (sources beside each).
#include "model/loss.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <utility>
#include <vector>

using namespace plan;
using doctest::Approx;

namespace {

// Section 3.1, cabled G.652.D / G.657.A: max of G.652 and G.657 (1577 and 1600 derived from the bands).
const std::vector<AttenuationPoint> fibre = [] {
  std::vector<AttenuationPoint> rows;
  const double table[][3] = {{1270, 0.42, 0.47}, {1310, 0.36, 0.40}, {1490, 0.28, 0.40}, {1550, 0.25, 0.30},
                             {1577, 0.25, 0.40}, {1600, 0.25, 0.40}, {1625, 0.25, 0.40}};
  for (const auto& r : table)
    rows.push_back({{static_cast<int>(r[0])}, decibels_per_kilometre(r[1]), decibels_per_kilometre(r[2])});
  return rows;
}();
const std::array low_band{AttenuationBand{{1530}, {1565}, decibels_per_kilometre(0.30)}};

double plan_at(int nm) {
  return in_decibels_per_kilometre(attenuation_plan(fibre, {nm}));
}
double max_at(int nm) {
  return in_decibels_per_kilometre(attenuation_max(fibre, low_band, {nm}));
}
bool close(Loss l, double expected, double tolerance = 1e-9) {
  return std::abs(in_decibels(l) - expected) <= tolerance;
}
LossClass window(double min, double max) {
  return {decibels(min), decibels(max)};
}
Loss sum(std::vector<std::pair<double, double>> parts) {
  std::vector<LossItem> items;
  for (const auto& [count, each] : parts) items.push_back({count, decibels(each)});
  return sum_of(items);
}
Transceivers powers(double low, double high, double sensitivity, double overload, double penalty) {
  return {dbm(low), dbm(high), dbm(sensitivity), dbm(overload), decibels(penalty)};
}

}  // namespace

TEST_CASE("ideal splitters (exact)") {
  const double expected[] = {3.0103, 6.0206, 9.0309, 12.0412, 15.0515, 18.0618, 21.0721};
  for (int i = 0; i < 7; ++i) CHECK(close(ideal_split(2 << i), expected[i], 1e-4));
  CHECK(close(ideal_split(1), 0));
}

TEST_CASE("ideal taps (exact)") {
  const double table[][3] = {{0.10, 10.0000, 0.4576}, {0.30, 5.2288, 1.5490}, {0.05, 13.0103, 0.2228}};
  for (const auto& r : table) {
    CHECK(close(ideal_tap(r[0]), r[1], 1e-4));
    CHECK(close(ideal_tap(1 - r[0]), r[2], 1e-4));
  }
}

TEST_CASE("powers close on the class (G.984.2, G.9807.1)") {
  struct Row {
    double low, high, sensitivity, overload, penalty, min, max;
  };
  const Row rows[] = {
      {1.5, 5, -27, -8, 0.5, 13, 28},  // GPON B+ down
      {0.5, 5, -28, -8, 0.5, 13, 28},  // GPON B+ up
      {2, 5, -28, -9, 1, 14, 29},      // XGS-PON N1 down
      {4, 9, -26, -5, 1, 14, 29},      // XGS-PON N1 up
      {4, 7, -28, -9, 1, 16, 31},      // N2 down
      {4, 9, -28, -7, 1, 16, 31},      // N2 up
      {6, 9, -28, -9, 1, 18, 33},      // E1 down
      {4, 9, -30, -9, 1, 18, 33},      // E1 up
      {8, 11, -28, -9, 1, 20, 35},     // E2 down
      {0, 4, -21, -1, 1, 5, 20},       // GPON A down, 2.488
      {5, 9, -21, -1, 1, 10, 25},      // B
      {3, 7, -28, -8, 1, 15, 30},      // C
      {-4, 1, -25, -4, 1, 5, 20},      // A, 1.244 (receivers: a Russian ministry order)
      {0.5, 5, -32, -12, 0.5, 17, 32}  // C+ up
  };
  for (const Row& r : rows) {
    const Transceivers t = powers(r.low, r.high, r.sensitivity, r.overload, r.penalty);
    CHECK(close(loss_carried(t), r.max));
    CHECK(close(loss_demanded(t), r.min));
  }
  // C+ down demands 15, less than the 17 of its class.
  const Transceivers c_plus = powers(3, 7, -30, -8, 1);
  CHECK(close(loss_carried(c_plus), 32));
  CHECK(close(loss_demanded(c_plus), 15));
}

TEST_CASE("a worked budget of a university exercise: 27.848 dB, B+ by 0.152") {
  const Loss l = decibels_per_kilometre(0.4) * metres(7370) +
                 sum({{1, 1}, {1, 7.3}, {1, 13.7}, {1, 1}, {1, 0.6}, {1, 0.3}, {1, 1}});
  CHECK(close(l, 27.848));
  const ClassVerdict v = check_class(window(13, 28), l, l);
  CHECK(v.met);
  CHECK(close(v.to_max, 0.152));
}

TEST_CASE("the second: 31.068 dB fails B+ by 3.068 and N2 by 0.068, passes C+ by 0.932") {
  const Loss l = decibels_per_kilometre(0.4) * metres(7420) +
                 sum({{1, 1}, {1, 10.5}, {1, 13.7}, {1, 1}, {1, 0.6}, {1, 0.3}, {1, 1}});
  CHECK(close(l, 31.068));
  CHECK_FALSE(check_class(window(13, 28), l, l).met);
  CHECK(close(check_class(window(13, 28), l, l).to_max, -3.068));
  CHECK_FALSE(check_class(window(16, 31), l, l).met);
  CHECK(close(check_class(window(17, 32), l, l).to_max, 0.932));
}

TEST_CASE("a worked sheet: 18.784 dB, -15.784 dBm, and the length back from -18 dBm") {
  const Loss fixed = sum({{8, 0.02}, {4, 0.5}, {1, 13.7}}),
             l = decibels_per_kilometre(0.34) * metres(8600) + fixed;
  CHECK(close(l, 18.784, 1e-3));
  CHECK(in_dbm(dbm(3) - l) == Approx(-15.784).epsilon(1e-4));
  const Length back =
      longest_fibre({decibels(0), dbm(3) - dbm(-18)}, fixed, {}, decibels_per_kilometre(0.34));
  CHECK(in_metres(back) == Approx(15117.6).epsilon(1e-5));
}

TEST_CASE("a course review: loss 9.60 with headroom 17.40; 11.35 with 18.65") {
  const auto headroom = [](double launch, double sensitivity, Loss l) {
    return dbm(launch) - dbm(sensitivity) - l;
  };
  const Loss a = decibels_per_kilometre(0.25) * metres(18000) + sum({{6, 0.15}, {4, 0.30}, {1, 3}});
  CHECK(close(a, 9.60));
  CHECK(close(headroom(3, -24, a), 17.40));
  const Loss b = decibels_per_kilometre(0.25) * metres(22000) + sum({{7, 0.15}, {6, 0.30}, {1, 3}});
  CHECK(close(b, 11.35));
  CHECK(close(headroom(4, -26, b), 18.65));
}

TEST_CASE("cascade of 7.3 and twice 10.5: 28.3 dB, -25.3 and -23.3 dBm") {
  const Loss l = sum({{1, 7.3}, {2, 10.5}});
  CHECK(close(l, 28.3));
  const Received r = received(powers(3, 5, -27, -8, 0.5), l, l);
  CHECK(in_dbm(r.lowest) == Approx(-25.3));
  CHECK(in_dbm(r.highest) == Approx(-23.3));
}

TEST_CASE("statistical loss of a link-planning handbook: 12.856 (printed 12.86)") {
  const double six = std::sqrt(0.06), one = std::sqrt(0.01);
  const std::array parts{SpreadItem{2, decibels(0.35), decibels(six)},
                         SpreadItem{2, decibels(0.15), decibels(one)}, SpreadItem{0.21, decibels(0.8), {}},
                         SpreadItem{19.76, decibels(0.5), {}}};
  const auto with = [&](double variance) {
    return covered(spread_of(parts, decibels(std::sqrt(variance))), 3) + decibels(0.50);
  };
  CHECK(close(with(0.05), 12.856, 1e-3));
  CHECK(close(with(0.04), 12.821, 1e-3));
}

TEST_CASE("statistical and worst case of one path") {
  const std::array parts{
      SpreadItem{10, decibels(0.35), decibels(0.02)}, SpreadItem{4, decibels(0.25), decibels(0.1329)},
      SpreadItem{6, decibels(0.05), decibels(0.04)}, SpreadItem{1, decibels(16.5), decibels(0.35)}};
  const Spread s = spread_of(parts, {});
  CHECK(close(s.mean, 21.300, 1e-3));
  CHECK(close(s.deviation, 0.4547, 1e-4));
  CHECK(close(covered(s, 2), 22.209, 1e-3));
  CHECK(close(covered(s, 3), 22.664, 1e-3));
  CHECK(close(sum({{10, 0.40}, {4, 0.50}, {6, 0.12}, {1, 17.2}}), 23.920, 1e-3));
}

TEST_CASE("deviation implied by IEC 61753-1 grades B, C, D") {
  CHECK(close(deviation_from_97(decibels(0.12), decibels(0.25)), 0.0691, 1e-4));
  CHECK(close(deviation_from_97(decibels(0.25), decibels(0.50)), 0.1329, 1e-4));
  CHECK(close(deviation_from_97(decibels(0.50), decibels(1.00)), 0.2658, 1e-4));
}

TEST_CASE("a building drop (Chinese public-building standard): 0.63 under a cap of 0.80") {
  const auto drop = [](double per_km, double km, int joints, double each) {
    return decibels_per_kilometre(per_km) * metres(km * 1000) + decibels(each) * (joints + 2);
  };
  CHECK(close(drop(0.30, 0.5, 2, 0.12), 0.63));
  CHECK(close(drop(0.25, 1.0, 0, 0.1), 0.45));
  CHECK(close(drop(0.25, 0.8, 1, 0.1), 0.50));
}

TEST_CASE("longest fibre by split (default splitter column)") {
  const auto reach = [](double splitter, double max, double per_km) {
    return in_metres(longest_fibre(window(0, max), sum({{1, splitter}, {4, 0.5}, {6, 0.1}}), decibels(1),
                                   decibels_per_kilometre(per_km))) /
           1000;
  };
  CHECK(reach(10.7, 28, 0.40) == Approx(34.25).epsilon(1e-6));
  CHECK(reach(13.9, 28, 0.40) == Approx(26.25).epsilon(1e-6));
  CHECK(reach(17.2, 28, 0.40) == Approx(18.00).epsilon(1e-6));
  CHECK(reach(21.5, 28, 0.40) == Approx(7.25).epsilon(1e-6));
  CHECK(reach(17.2, 28, 0.36) == Approx(20.000).epsilon(1e-4));
  CHECK(reach(17.2, 28, 0.28) == Approx(25.714).epsilon(1e-4));
  CHECK(reach(21.5, 31, 0.47) == Approx(12.553).epsilon(1e-4));
  CHECK(reach(21.5, 31, 0.42) == Approx(14.048).epsilon(1e-4));
  CHECK(reach(40, 28, 0.42) == 0);
}

TEST_CASE("overload of a short path: attenuator of 3.8591 dB") {
  const Loss least = ideal_split(8) + decibels_per_kilometre(0.22) * metres(500);
  CHECK(close(least, 9.1409, 1e-4));
  const ClassVerdict v = check_class(window(13, 28), least, decibels(20));
  CHECK_FALSE(v.met);
  CHECK(close(v.above_min, -3.8591, 1e-4));
  CHECK(close(attenuator_needed(window(13, 28), least), 3.8591, 1e-4));
  CHECK(close(attenuator_needed(window(13, 28), decibels(14)), 0));
  CHECK(in_dbm(received(powers(1.5, 5, -27, -8, 0.5), least, decibels(20)).highest) ==
        Approx(-4.1409).epsilon(1e-4));
}

TEST_CASE("an exercise that says it works: 13.56 dB from +8 dBm overloads by 2.44") {
  const Loss l = sum({{1, 3}, {1, 0.06}, {1, 10.5}});
  CHECK(close(l, 13.56));
  CHECK(close(dbm(8) - l - dbm(-8), 2.44));
}

TEST_CASE("differential of one PON: 15.1 fails, 15.0 passes") {
  CHECK_FALSE(differential_met(decibels(28), decibels(12.9), decibels(15)));
  CHECK(differential_met(decibels(28), decibels(13.0), decibels(15)));
}

TEST_CASE("two systems on one network") {
  CHECK(shared_window(window(13, 28), window(14, 29)) == window(14, 28));
  CHECK(shared_window(window(17, 32), window(16, 31)) == window(17, 31));
  const LossClass nothing = shared_window(window(5, 20), window(28, 35));
  CHECK(nothing.min > nothing.max);
}

TEST_CASE("a 5 percent tap of 11.8 dB is impossible, though its light sums to 0.937") {
  const std::array printed{TapPort{0.95, decibels(0.6)}, TapPort{0.05, decibels(11.8)}};
  CHECK(light_out(printed) == Approx(0.9370).epsilon(1e-3));
  CHECK_FALSE(tap_is_possible(printed));
  const std::array honest{TapPort{0.95, decibels(0.5)}, TapPort{0.05, decibels(14.6)}};
  CHECK(light_out(honest) == Approx(0.926).epsilon(1e-3));
  CHECK(tap_is_possible(honest));
  const std::array from_nothing{TapPort{0.5, decibels(3.0103)}, TapPort{0.5, decibels(3.0103)},
                                TapPort{0.5, decibels(3.0103)}};
  CHECK_FALSE(tap_is_possible(from_nothing));
}

TEST_CASE("splitter defaults: excess over ideal (a data sheet, 1260-1650 nm)") {
  const double table[][3] = {{2, 4.3, 1.29},   {4, 7.4, 1.38},   {8, 10.7, 1.67},
                             {16, 13.9, 1.86}, {32, 17.2, 2.15}, {64, 21.5, 3.44}};
  for (const auto& r : table) CHECK(close(excess_loss(decibels(r[1]), static_cast<int>(r[0])), r[2], 0.01));
}

TEST_CASE("a cascade of 1:4 and 1:8 is ideally a 1:32, and 0.9 dB worse in data sheets") {
  CHECK(close(ideal_split(4) + ideal_split(8), 15.0515, 1e-4));
  CHECK(close(sum({{1, 7.4}, {1, 10.7}}) - decibels(17.2), 0.9, 1e-4));
}

TEST_CASE("attenuation: rows, the 1530-1565 band, between and beyond") {
  CHECK(max_at(1310) == Approx(0.40));
  CHECK(max_at(1550) == Approx(0.30));
  CHECK(max_at(1625) == Approx(0.40));
  CHECK(max_at(1270) == Approx(0.47));
  CHECK(max_at(1530) == Approx(0.30));  // the band
  CHECK(max_at(1565) == Approx(0.30));
  CHECK(max_at(1566) == Approx(0.40));  // the larger neighbour
  CHECK(max_at(1529) == Approx(0.40));
  CHECK(max_at(1290) == Approx(0.47));
  CHECK(max_at(1260) == Approx(0.47));  // below the first row
  CHECK(max_at(1650) == Approx(0.40));
  CHECK(plan_at(1310) == Approx(0.36));
  CHECK(plan_at(1290) == Approx(0.39));  // half way, 0.42 and 0.36
  CHECK(plan_at(1520) == Approx(0.265));
  CHECK(plan_at(1260) == Approx(0.42));
  CHECK(plan_at(1650) == Approx(0.25));
  // A path loses no less at 1270 than at 1577, nor at 1310 than at 1490.
  CHECK(plan_at(1270) >= plan_at(1577));
  CHECK(max_at(1310) >= max_at(1490));
}

TEST_CASE("macrobend of G.657.A1 and A2 at 1550 nm") {
  const std::array a1{BendLossRow{millimetres(15), 10, decibels(0.25)},
                      BendLossRow{millimetres(10), 1, decibels(0.75)}};
  const auto lost = [&](double radius, double turns) {
    return macrobend_loss(a1, millimetres(radius), turns);
  };
  CHECK(close(*lost(15, 1), 0.025));
  CHECK(close(*lost(15, 0.25), 0.00625));  // one corner
  CHECK(close(*lost(10, 1), 0.75));
  CHECK(close(*lost(12, 1), 0.75));  // never less than the next tighter row
  CHECK(close(*lost(40, 1), 0.025));
  CHECK_FALSE(lost(9.9, 1).has_value());  // below its minimum radius: no extrapolation
}

TEST_CASE("readings from both ends") {
  CHECK(close(both_ways(decibels(0.12), decibels(-0.04)), 0.04));
  CHECK(close(both_ways(decibels(0.20), decibels(0.10)), 0.15));
  CHECK(close(both_ways(decibels(-0.2), decibels(0.4)), 0.10));
  CHECK(close(both_ways(decibels(3.42), decibels(3.68)), 3.55));
}

TEST_CASE("powers in milliwatts") {
  CHECK(in_dbm(milliwatts(136)) == Approx(21.335).epsilon(1e-4));
  CHECK(in_milliwatts(dbm(11)) == Approx(12.589).epsilon(1e-4));
  CHECK(in_milliwatts(dbm(18)) == Approx(63.096).epsilon(1e-4));
  CHECK(in_milliwatts(dbm(0)) == Approx(1));
}

TEST_CASE("a class is met at both of its edges") {
  CHECK(check_class(window(13, 28), decibels(13), decibels(28)).met);
  CHECK(check_class(window(13, 28), decibels(13 - 1e-10), decibels(28 + 1e-10)).met);
  CHECK_FALSE(check_class(window(13, 28), decibels(13), decibels(28 + 1e-6)).met);
  CHECK_FALSE(check_class(window(13, 28), decibels(13 - 1e-6), decibels(20)).met);
}
