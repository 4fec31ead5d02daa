#include "estate/vector_axes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace withy {
namespace {

constexpr double far_kilometres = 300, near_kilometres = 100;

double middle(std::vector<double>& values) {
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

// Great circle on a sphere of the earth's mean radius.
double kilometres(MapPlace a, MapPlace b) {
  constexpr double radius = 6371.0, degree = std::numbers::pi / 180;
  const double up = std::sin((b.y - a.y) * degree / 2), across = std::sin((b.x - a.x) * degree / 2);
  const double h = up * up + std::cos(a.y * degree) * std::cos(b.y * degree) * across * across;
  return 2 * radius * std::asin(std::sqrt(std::min(1.0, h)));
}

}  // namespace

std::optional<MapPlace> median_place(const Map& map) {
  std::vector<double> x, y;
  const auto add = [&](const MapPath& path) {
    if (!path.empty()) x.push_back(path[0].x), y.push_back(path[0].y);
  };
  for (const MapStreet& s : map.streets) add(s.line);
  for (const MapAddress& a : map.addresses) x.push_back(a.at.x), y.push_back(a.at.y);
  for (const MapBuilding& b : map.buildings)
    if (!b.parts.empty() && !b.parts[0].rings.empty()) add(b.parts[0].rings[0]);
  for (const MapPlot& p : map.plots)
    if (!p.parts.empty() && !p.parts[0].rings.empty()) add(p.parts[0].rings[0]);
  for (const MapBarrier& b : map.barriers) add(b.line);
  for (const MapDuct& d : map.ducts) add(d.line);
  if (x.empty()) return {};
  return MapPlace{middle(x), middle(y)};
}

std::string swapped_axes(const Map& layer, const std::optional<MapPlace>& others) {
  const std::optional<MapPlace> at = others ? median_place(layer) : std::nullopt;
  if (!at || std::abs(at->x) > 90) return {};
  const double as_is = kilometres(*at, *others), swapped = kilometres({at->y, at->x}, *others);
  if (as_is < far_kilometres || swapped > near_kilometres) return {};
  return fmt::format(
      "lies {:.0f} km from what was read before, but {:.0f} km with its axes swapped: is latitude its first "
      "axis, or that of the earlier source",
      as_is, swapped);
}

}  // namespace withy
