#include "model/loss.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace plan {

namespace {

// The first row at or above w; rows.size() above all.
size_t row_above(std::span<const AttenuationPoint> rows, Wavelength w) {
  PLAN_CHECK(!rows.empty());
  size_t i = 0;
  while (i < rows.size() && rows[i].at < w) ++i;
  return i;
}

double power_share(Loss l) {
  return std::pow(10, -in_decibels(l) / 10);
}

}  // namespace

Attenuation attenuation_plan(std::span<const AttenuationPoint> rows, Wavelength w) {
  const size_t i = row_above(rows, w);
  if (i == 0) return rows.front().plan;
  if (i == rows.size()) return rows.back().plan;
  const AttenuationPoint &below = rows[i - 1], &above = rows[i];
  const double share = static_cast<double>(w.nanometres - below.at.nanometres) /
                       static_cast<double>(above.at.nanometres - below.at.nanometres);
  return below.plan + (above.plan - below.plan) * share;
}

Attenuation attenuation_max(std::span<const AttenuationPoint> rows, std::span<const AttenuationBand> bands,
                            Wavelength w) {
  const size_t i = row_above(rows, w);
  if (i < rows.size() && rows[i].at == w) return rows[i].max;
  for (const AttenuationBand& b : bands)
    if (b.from <= w && w <= b.to) return b.max;
  if (i == 0) return rows.front().max;
  if (i == rows.size()) return rows.back().max;
  return std::max(rows[i - 1].max, rows[i].max);
}

std::optional<Loss> macrobend_loss(std::span<const BendLossRow> rows, Length radius, double turns) {
  const BendLossRow* tighter = nullptr;
  for (const BendLossRow& r : rows)
    if (r.radius <= radius && (!tighter || r.radius > tighter->radius)) tighter = &r;
  if (!tighter) return {};
  return tighter->loss * (turns / tighter->turns);
}

Loss ideal_split(int ways) {
  return decibels(10 * std::log10(ways));
}
Loss ideal_tap(double share) {
  return decibels(-10 * std::log10(share));
}
Loss excess_loss(Loss port, int ways) {
  return port - ideal_split(ways);
}

double light_out(std::span<const TapPort> ports) {
  double sum = 0;
  for (const TapPort& p : ports) sum += power_share(p.loss);
  return sum;
}

bool tap_is_possible(std::span<const TapPort> ports) {
  for (const TapPort& p : ports)
    if (in_decibels(p.loss - ideal_tap(p.share)) < -loss_tolerance_db) return false;
  return light_out(ports) <= 1 + 1e-9;
}

Loss sum_of(std::span<const LossItem> items) {
  Loss sum;
  for (const LossItem& i : items) sum += i.each * i.count;
  return sum;
}

Spread spread_of(std::span<const SpreadItem> items, Loss system_deviation) {
  Loss mean;
  double variance = in_decibels(system_deviation) * in_decibels(system_deviation);
  for (const SpreadItem& i : items) {
    mean += i.mean * i.count;
    variance += in_decibels(i.deviation) * in_decibels(i.deviation) * i.count;
  }
  return {mean, decibels(std::sqrt(variance))};
}

Loss covered(const Spread& s, double k) {
  return s.mean + s.deviation * k;
}
Loss deviation_from_97(Loss mean, Loss limit) {
  return (limit - mean) * (1 / 1.8808);
}

ClassVerdict check_class(const LossClass& c, Loss least, Loss greatest) {
  ClassVerdict v{c.max - greatest, least - c.min, false};
  v.met = in_decibels(v.to_max) >= -loss_tolerance_db && in_decibels(v.above_min) >= -loss_tolerance_db;
  return v;
}

LossClass shared_window(const LossClass& a, const LossClass& b) {
  return {std::max(a.min, b.min), std::min(a.max, b.max)};
}

Loss attenuator_needed(const LossClass& c, Loss least) {
  return std::max(decibels(0), c.min - least);
}

Length longest_fibre(const LossClass& c, Loss fixed, Loss margin, Attenuation a) {
  const double left = in_decibels(c.max - fixed - margin);
  PLAN_CHECK(in_decibels_per_kilometre(a) > 0);
  return left > 0 ? metres(left / in_decibels_per_kilometre(a) * 1000) : Length{};
}

bool differential_met(Loss greatest, Loss least, Loss limit) {
  return in_decibels(greatest - least - limit) <= loss_tolerance_db;
}

Loss loss_carried(const Transceivers& t) {
  return t.launch_min - t.sensitivity - t.penalty;
}
Loss loss_demanded(const Transceivers& t) {
  return t.launch_max - t.overload;
}

Received received(const Transceivers& t, Loss least, Loss greatest) {
  return {t.launch_min - greatest, t.launch_max - least};
}

double in_milliwatts(Level l) {
  return std::pow(10, in_dbm(l) / 10);
}

Level milliwatts(double mw) {
  PLAN_CHECK(mw > 0);
  return dbm(10 * std::log10(mw));
}

Loss both_ways(Loss a_to_b, Loss b_to_a) {
  return (a_to_b + b_to_a) * 0.5;
}

}  // namespace plan
