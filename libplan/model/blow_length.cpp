#include <algorithm>
#include <cmath>

#include "model/blow.h"

namespace plan {

namespace {

constexpr int64_t longest_metres = 20000;
constexpr size_t most_elements = 100000;

std::vector<RouteElement> repeated(std::span<const RouteElement> pattern, Length length) {
  std::vector<RouteElement> route;
  for (Length left = length; left > Length{} && route.size() < most_elements;) {
    const RouteElement& e = pattern[route.size() % pattern.size()];
    route.push_back(e);
    if (e.run >= left) {
      route.back().run = left;
      route.back().bend = {};
      return route;
    }
    left -= std::max(Length{}, e.run);
  }
  return route;
}

}  // namespace

std::vector<RouteElement> reversed(std::span<const RouteElement> route) {
  std::vector<RouteElement> back;
  if (route.empty()) return back;
  if (route.back().bend != radians(0)) back.push_back({{}, 0, route.back().bend, route.back().bend_radius});
  for (size_t i = route.size(); i-- > 0;) {
    RouteElement e{route[i].run, -route[i].slope_sine, {}, {}};
    if (i > 0) e.bend = route[i - 1].bend, e.bend_radius = route[i - 1].bend_radius;
    back.push_back(e);
  }
  return back;
}

Length longest_blow(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& conditions,
                    std::span<const RouteElement> pattern) {
  Length once;
  for (const RouteElement& e : pattern) once += std::max(Length{}, e.run);
  if (once <= Length{}) return {};
  const double share =
      in_metres(once) * static_cast<double>(most_elements) / static_cast<double>(pattern.size());
  const auto reach = static_cast<int64_t>(std::min(share, static_cast<double>(longest_metres)));
  const auto good = [&](int64_t m) {
    return blow_passes(unit, bore, conditions, repeated(pattern, metres(static_cast<double>(m))));
  };
  int64_t low = 0, high = 64;
  while (high < reach && good(high)) low = high, high *= 2;
  high = std::min(high, reach + 1);
  while (high - low > 1) {
    const int64_t middle = (low + high) / 2;
    (good(middle) ? low : high) = middle;
  }
  return metres(static_cast<double>(low));
}

StraightBlow straight_blow(Force net_push, const BlowUnit& unit, const BlowBore& bore,
                           const BlowConditions& conditions) {
  const double weight = in_grams_per_metre(unit.mass) / 1000 * standard_gravity;
  const double k = conditions.drag_factor * drag_coefficient(bore.id, unit.od);
  const double inlet = in_pascals(conditions.supply), push = in_newtons(net_push), c = push / k;
  const double squares = inlet * inlet - ambient_pascals * ambient_pascals;
  const double worst = inlet + c - std::sqrt(c * c + 2 * inlet * c);
  if (worst < ambient_pascals) {
    const Length all = metres((push + k * (inlet - ambient_pascals)) / (conditions.friction * weight));
    return {all, all};
  }
  const double length = k * squares / (2 * conditions.friction * weight * worst);
  return {metres(length), metres(length * (inlet * inlet - worst * worst) / squares)};
}

}  // namespace plan
