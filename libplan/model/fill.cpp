#include "model/fill.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace plan {

namespace {

// Best known ratios of containing to contained diameter, n = 1 … 24.
constexpr std::array<double, 24> best_known{1.0000, 2.0000, 2.1547, 2.4142, 2.7013, 3.0000, 3.0000, 3.3048,
                                            3.6131, 3.8130, 3.9238, 4.0296, 4.2361, 4.3284, 4.5214, 4.6154,
                                            4.7920, 4.8637, 4.8637, 5.1223, 5.2523, 5.4397, 5.5452, 5.6517};

int ring(double core, double tube) {
  // The smallest amount over keeps pi/asin(1/2) = 5.999... at six.
  return static_cast<int>(std::floor(std::numbers::pi / std::asin(tube / (core + tube)) + 1e-9));
}

}  // namespace

double diameter_ratio(Length outside, Length bore) {
  return bore > Length{} ? outside / bore : std::numeric_limits<double>::infinity();
}

double area_fill(Length outside, Length bore) {
  const double ratio = diameter_ratio(outside, bore);
  return ratio * ratio;
}

double area_fill(std::span<const Length> outsides, Length bore) {
  double sum = 0;
  for (const Length d : outsides) sum += area_fill(d, bore);
  return sum;
}

Length widest_within(Length bore, double fill) {
  const double um = static_cast<double>(bore.micrometres()) * std::sqrt(std::max(0.0, fill));
  return Length::of_micrometres(static_cast<int64_t>(std::floor(um + 1e-6)));
}

double bent_fill_limit(double base, double loss_per_bend, int bends) {
  return std::max(0.0, base * (1 - loss_per_bend * bends));
}

int ring_round(Length core, Length tube) {
  if (core <= Length{} || tube <= Length{}) return 0;
  return ring(in_metres(core), in_metres(tube));
}

double layered_ratio(int n) {
  if (n <= 0) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (int core = 1; core <= 5; ++core) {
    double width = best_known[static_cast<size_t>(core - 1)];
    for (int laid = core; laid < n; width += 2) laid += ring(width, 1);
    least = std::min(least, width);
  }
  return n <= 24 ? std::max(least, best_known[static_cast<size_t>(n - 1)]) : least;
}

double packing_ratio(int n) {
  if (n <= 0) return 0;
  return n <= 24 ? best_known[static_cast<size_t>(n - 1)] : layered_ratio(n);
}

Length bundle_outside(int ways, Length tube, Length sheath) {
  const double um = packing_ratio(ways) * static_cast<double>(tube.micrometres());
  return Length::of_micrometres(static_cast<int64_t>(std::ceil(um - 1e-6))) + sheath * 2;
}

int most_in_bore(Length outside, Length bore, double area_limit) {
  if (outside <= Length{} || bore < outside) return 0;
  const double by_area = std::floor(area_limit / area_fill(outside, bore) + 1e-9);
  int low = 0, high = static_cast<int>(std::clamp(by_area, 0.0, 1e6)) + 1;
  const double ratio = bore / outside + 1e-9;
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (packing_ratio(middle) <= ratio ? low : high) = middle;
  }
  return low;
}

bool fits_in_bore(std::span<const Length> outsides, Length bore, double area_limit) {
  if (outsides.empty()) return true;
  if (outsides.size() > 1000000 || area_fill(outsides, bore) > area_limit + 1e-9) return false;
  const Length widest = *std::max_element(outsides.begin(), outsides.end());
  return packing_ratio(static_cast<int>(outsides.size())) * in_metres(widest) <= in_metres(bore) * (1 + 1e-9);
}

}  // namespace plan
