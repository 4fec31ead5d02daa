#include "scenario/projection.h"

#include <algorithm>
#include <cmath>

namespace plan {

namespace {

constexpr double equator = 6378137.0, flattening = 1 / 298.257223563;  // WGS 84
constexpr double degree = 3.14159265358979323846 / 180.0;
constexpr double n = flattening / (2 - flattening);
constexpr double rectifying = equator / (1 + n) * (1 + n * n / 4 + n * n * n * n / 64);
// Karney (2011), equations 35 and 36, up to n^4.
constexpr double alpha[4] = {n / 2 - 2 * n * n / 3 + 5 * n * n * n / 16 + 41 * n * n * n * n / 180,
                             13 * n* n / 48 - 3 * n* n* n / 5 + 557 * n* n* n* n / 1440,
                             61 * n* n* n / 240 - 103 * n* n* n* n / 140, 49561 * n* n* n* n / 161280};
constexpr double beta[4] = {n / 2 - 2 * n * n / 3 + 37 * n * n * n / 96 - n * n * n * n / 360,
                            n* n / 48 + n* n* n / 15 - 437 * n* n* n* n / 1440,
                            17 * n* n* n / 480 - 37 * n* n* n* n / 840, 4397 * n* n* n* n / 161280};
double eccentricity() {
  return std::sqrt(flattening * (2 - flattening));
}

// Tangent of the conformal latitude, and of the latitude from it (Newton).
double conformal(double t) {
  const double e = eccentricity();
  const double s = std::sinh(e * std::atanh(e * t / std::sqrt(1 + t * t)));
  return t * std::sqrt(1 + s * s) - s * std::sqrt(1 + t * t);
}
double from_conformal(double target) {
  const double e2 = flattening * (2 - flattening);
  double t = target / (1 - e2);
  for (int i = 0; i < 6; ++i) {
    const double now = conformal(t);
    t += (target - now) / std::sqrt(1 + now * now) * (1 + (1 - e2) * t * t) /
         ((1 - e2) * std::sqrt(1 + t * t));
  }
  return t;
}

struct Metres {
  double east, north;
};
Metres project(double longitude, double latitude) {
  const double t = conformal(std::tan(latitude * degree)), l = longitude * degree;
  const double xi0 = std::atan2(t, std::cos(l)), eta0 = std::asinh(std::sin(l) / std::hypot(t, std::cos(l)));
  double xi = xi0, eta = eta0;
  for (int j = 1; j <= 4; ++j) {
    xi += alpha[j - 1] * std::sin(2 * j * xi0) * std::cosh(2 * j * eta0);
    eta += alpha[j - 1] * std::cos(2 * j * xi0) * std::sinh(2 * j * eta0);
  }
  return {rectifying * eta, rectifying * xi};
}

// A quarter turn from the origin the series runs off: what lies farther is not told apart.
int64_t millimetres_within_reach(double metres) {
  constexpr double reach = 1e12;
  return std::llround(std::clamp(metres * 1000, -reach, reach));
}

}  // namespace

Projection::Projection(Geographic origin) : origin_(origin), northing_(project(0, origin.latitude).north) {}

Point Projection::plane(Geographic g) const {
  const Metres m = project(g.longitude - origin_.longitude, g.latitude);
  return {millimetres_within_reach(m.east), millimetres_within_reach(m.north - northing_)};
}

std::pair<double, double> Projection::metres(Geographic g) const {
  const Metres m = project(g.longitude - origin_.longitude, g.latitude);
  return {m.east, m.north - northing_};
}

Geographic Projection::geographic(Point p) const {
  const double xi = (static_cast<double>(p.y) / 1000 + northing_) / rectifying;
  const double eta = static_cast<double>(p.x) / 1000 / rectifying;
  double xi0 = xi, eta0 = eta;
  for (int j = 1; j <= 4; ++j) {
    xi0 -= beta[j - 1] * std::sin(2 * j * xi) * std::cosh(2 * j * eta);
    eta0 -= beta[j - 1] * std::cos(2 * j * xi) * std::sinh(2 * j * eta);
  }
  const double t = std::sin(xi0) / std::hypot(std::sinh(eta0), std::cos(xi0));
  return {origin_.longitude + std::atan2(std::sinh(eta0), std::cos(xi0)) / degree,
          std::atan(from_conformal(t)) / degree};
}

}  // namespace plan
