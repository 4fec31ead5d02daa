// The smallest radius a thing may be bent to: the largest minimum of everything in it (fibre, unit,
// microduct, bundle at its laying temperature, and what blowing asks for).
//
//   std::array limits{millimetres(50), millimetres(70), millimetres(300), at_laying.radius};
//   Length r = smallest_bend_radius(limits);
//
// Rules of the trade, passed in as data: fibre 30 / 10 / 7.5 mm (G.652, G.657.A1, A2), unit 50-80 mm, tube
// 10 x outside diameter, bundle 1.0 m at 20 C, 2.0 m at 10 C, 2.5 m at 0 C, blowing 0.3 m.
#pragma once
#include <span>

#include "base/quantity.h"

namespace plan {

// 0 for no limits at all.
Length smallest_bend_radius(std::span<const Length> limits);
// A rule of the kind "10 x outside diameter".
Length radius_by_diameter(Length outside, double times);

struct BendPoint {
  Temperature at;
  Length radius;
  friend bool operator==(const BendPoint&, const BendPoint&) = default;
};
struct BundleRadius {
  Length radius;
  bool extrapolated = false;  // outside the points: the nearest one is held, and it is worth a warning
};
// Linear between the points, which may come in any order; 0 and extrapolated without points.
BundleRadius bundle_bend_radius(Temperature at_laying, std::span<const BendPoint> points);

}  // namespace plan
