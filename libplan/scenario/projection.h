// Longitude and latitude to the plan's plane and back: transverse Mercator on the WGS 84 ellipsoid with
// its central meridian through the estate and scale 1 there. The sixth-order series of Krueger (1912)
// as given by Karney, "Transverse Mercator with an accuracy of a few nanometers" (2011), cut at the
// fourth order: below a millimetre within 500 km of the origin. Distances in the plane are too long by
// x2 / (2 R2): 5 parts in a million 20 km east or west of the origin, 3 in 1,000 at the 500 km limit.
#pragma once
#include <utility>

#include "base/point.h"

namespace plan {

struct Geographic {
  double longitude = 0, latitude = 0;  // degrees
};

class Projection {
 public:
  explicit Projection(Geographic origin);
  Point plane(Geographic g) const;  // whole millimetres from the origin
  Geographic geographic(Point p) const;
  // East and north of the origin in metres, unrounded.
  std::pair<double, double> metres(Geographic g) const;

 private:
  Geographic origin_;
  double northing_;  // of the origin, m
};

}  // namespace plan
