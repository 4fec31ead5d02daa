#include "estate/plane.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace withy {
namespace {

constexpr double central_scale = 0.9996, false_east = 500'000, false_north_of_south = 10'000'000;

double meridian(int zone) {
  return zone * 6 - 183;
}

double lower_median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>((values.size() - 1) / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

bool on_the_globe(MapPlace p) {
  return std::abs(p.x) <= 180 && std::abs(p.y) <= 90;
}

template <class F>
void each_place(const Map& map, F&& f) {
  for (const MapStreet& s : map.streets)
    for (const MapPlace& p : s.line) f(p);
  for (const MapAddress& a : map.addresses) f(a.at);
  for (const MapBuilding& b : map.buildings)
    for (const MapPart& part : b.parts)
      if (!part.rings.empty() && !part.rings[0].empty()) f(part.rings[0][0]);
}

}  // namespace

Plane::Plane() : projection_({0, 0}) {}
Plane::Plane(int zone, bool south) : zone_(zone), south_(south), projection_({meridian(zone), 0}) {}

std::string Plane::name() const {
  return geographic() ? fmt::format("EPSG:{}", (south_ ? 32700 : 32600) + zone_) : "";
}

bool Plane::can_place(MapPlace p) const {
  constexpr double farthest = 1e9;  // m
  return geographic() ? on_the_globe(p) : std::abs(p.x) <= farthest && std::abs(p.y) <= farthest;
}

plan::Point Plane::forward(MapPlace p) const {
  if (!geographic()) return {std::llround(p.x * 1000), std::llround(p.y * 1000)};
  const auto [east, north] = projection_.metres({p.x, p.y});
  const double y = central_scale * north + (south_ ? false_north_of_south : 0);
  return {std::llround((central_scale * east + false_east) * 1000), std::llround(y * 1000)};
}

MapPlace Plane::inverse(plan::Point p) const {
  const double x = static_cast<double>(p.x) / 1000, y = static_cast<double>(p.y) / 1000;
  if (!geographic()) return {x, y};
  const double east = (x - false_east) / central_scale;
  const double north = (y - (south_ ? false_north_of_south : 0)) / central_scale;
  const plan::Geographic g = projection_.geographic({std::llround(east * 1000), std::llround(north * 1000)});
  return {g.longitude, g.latitude};
}

double Plane::scale(MapPlace place) const {
  if (!geographic()) return 1;
  // A transverse Mercator with its meridian through the place has scale 1 there.
  const plan::Projection local({place.x, place.y});
  constexpr double step = 0.001;  // degrees
  const plan::Geographic beside{place.x + step, place.y};
  const auto [a, b] = projection_.metres({place.x, place.y});
  const auto [c, d] = projection_.metres(beside);
  const auto [e, f] = local.metres(beside);
  return central_scale * std::hypot(c - a, d - b) / std::hypot(e, f);
}

Plane plane_of(const Map& map) {
  if (!map.geographic) return {};
  std::vector<double> x, y;
  each_place(map, [&](const MapPlace& p) {
    if (on_the_globe(p)) x.push_back(p.x), y.push_back(p.y);
  });
  const double longitude = lower_median(std::move(x)), latitude = lower_median(std::move(y));
  const int zone = static_cast<int>(std::floor((longitude + 180) / 6)) + 1;
  return {std::clamp(zone, 1, 60), latitude < 0};
}

}  // namespace withy
