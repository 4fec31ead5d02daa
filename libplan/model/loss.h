// The arithmetic of an optical loss ledger.
//
//   path loss = sum of attenuation x length + splices + mated connectors + splitter ports + bends +
//   attenuators class met  <=>  min <= least loss and greatest loss + margin <= max, in each direction
//
// Source: link equation of ITU-T G.652 App. I, extended; classes after G.984.2, G.9807.1, IEEE 802.3. All
// figures (tables, classes, defaults) are data, passed in. Losses compare to 1e-9 dB.
//
//   Loss l = attenuation_plan(rows, {1310}) * metres(7370) + ideal_split(32);
//   ClassVerdict v = check_class(b_plus, least, greatest);
//
// A planning figure. Light at these levels can hurt eyes; hazard levels and local rules are not decided here.
#pragma once
#include <optional>
#include <span>

#include "base/quantity.h"

namespace plan {

inline constexpr double loss_tolerance_db = 1e-9;

// --- fibre ---
// A table of attenuation by wavelength, rows rising, and bands that set the maximum everywhere inside
// them, as 0.30 dB/km does in 1530-1565 nm.
struct AttenuationPoint {
  Wavelength at;
  Attenuation plan;
  Attenuation max;
};
struct AttenuationBand {
  Wavelength from, to;
  Attenuation max;
};
// Linear between rows; the first row below all, the last above all. At least one row.
Attenuation attenuation_plan(std::span<const AttenuationPoint> rows, Wavelength w);
// The row itself, the band it lies in, else the larger of its two neighbours.
Attenuation attenuation_max(std::span<const AttenuationPoint> rows, std::span<const AttenuationBand> bands,
                            Wavelength w);

// Bend test of a fibre at one wavelength: loss of `turns` full turns at a radius.
struct BendLossRow {
  Length radius;
  double turns = 1;
  Loss loss;
  friend bool operator==(const BendLossRow&, const BendLossRow&) = default;
};
// Loss of `turns` (a 90 degree corner is 0.25) at a radius: per turn of the next tighter row, which is
// never too little. Nothing below the tightest row: no extrapolation, the fibre must not be bent so.
std::optional<Loss> macrobend_loss(std::span<const BendLossRow> rows, Length radius, double turns);

// --- splitters ---
Loss ideal_split(int ways);    // 10 log10 N
Loss ideal_tap(double share);  // -10 log10 of the share of the power
Loss excess_loss(Loss port, int ways);
struct TapPort {
  double share = 0;  // nominal, 0 … 1
  Loss loss;
};
// A data-sheet row that physics allows: no port below its ideal, and no more light out than in.
bool tap_is_possible(std::span<const TapPort> ports);
double light_out(std::span<const TapPort> ports);  // sum of 10^(-loss/10)

// --- sums ---
struct LossItem {
  double count = 0;
  Loss each;
};
Loss sum_of(std::span<const LossItem> items);

// n independent parts with a mean and a spread. Fibre counts by reel, never by kilometre.
struct SpreadItem {
  double count = 0;
  Loss mean;
  Loss deviation;
};
struct Spread {
  Loss mean;
  Loss deviation;
};
Spread spread_of(std::span<const SpreadItem> items, Loss system_deviation);
// mean + k x deviation: k 1.645 covers 95 %, 2 covers 97.7 %, 3 covers 99.87 % of paths, one-sided.
Loss covered(const Spread& s, double k);
// Deviation of a part known by its mean and the limit that 97 % keep: (limit - mean) / 1.8808.
Loss deviation_from_97(Loss mean, Loss limit);

// --- class and powers, one direction ---
struct LossClass {
  Loss min;
  Loss max;
  friend bool operator==(const LossClass&, const LossClass&) = default;
};
struct ClassVerdict {
  Loss to_max;     // max - greatest, negative = too lossy
  Loss above_min;  // least - min, negative = receiver overloaded
  bool met = false;
};
// `greatest` already with its margin.
ClassVerdict check_class(const LossClass& c, Loss least, Loss greatest);
// What two systems on one network both allow; empty (min > max) where nothing is.
LossClass shared_window(const LossClass& a, const LossClass& b);
Loss attenuator_needed(const LossClass& c, Loss least);
// Fibre that is left: (max - fixed - margin) / attenuation; 0 where nothing is left. Cap it by the reach.
Length longest_fibre(const LossClass& c, Loss fixed, Loss margin, Attenuation a);
// Difference of the farthest and nearest of one PON, and whether a limit (15 dB) allows it.
bool differential_met(Loss greatest, Loss least, Loss limit);

struct Transceivers {
  Level launch_min, launch_max;
  Level sensitivity, overload;
  Loss penalty;
};
// Largest loss the powers carry, launch_min - sensitivity - penalty; a catalogue's class closes on it.
Loss loss_carried(const Transceivers& t);
// Least loss that keeps the receiver from overload, launch_max - overload.
Loss loss_demanded(const Transceivers& t);
struct Received {
  Level lowest, highest;
};
Received received(const Transceivers& t, Loss least, Loss greatest);

double in_milliwatts(Level l);
Level milliwatts(double mw);  // above 0

// --- measured ---
// Loss of an event or a link read from both ends; a one-way reading may be negative and stays so.
Loss both_ways(Loss a_to_b, Loss b_to_a);

}  // namespace plan
