#include "network/heights.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace plan {
namespace {

struct Reading {
  Point at;
  RouteId route;
  uint32_t leg;  // vertices come before what hangs on the legs
  Length height;
  friend bool operator<(const Reading& a, const Reading& b) {
    return std::tie(a.at, a.route, a.leg) < std::tie(b.at, b.route, b.leg);
  }
};

Length interpolated(const Route& route, const Hang& hang) {
  const Point a = route.line[hang.leg], b = route.line[hang.leg + 1];
  const auto metric = [](Point p, Point q) {
    return std::hypot(static_cast<double>(p.x - q.x), static_cast<double>(p.y - q.y));
  };
  const double whole = metric(a, b), share = whole > 0 ? metric(a, hang.entry) / whole : 0;
  const double from = static_cast<double>(to_whole_millimetres(route.heights[hang.leg]));
  const double to = static_cast<double>(to_whole_millimetres(route.heights[hang.leg + 1]));
  return whole_millimetres(std::llround(from + (to - from) * share));
}

}  // namespace

std::vector<std::pair<Point, Length>> known_heights(const Demand& demand, const Hangs& hangs) {
  std::vector<Reading> readings;
  for (const RouteId r : demand.routes.ids()) {
    const Route& route = demand.routes[r];
    for (size_t i = 0; i < route.heights.size(); ++i)
      readings.push_back({route.line[i], r, 0, route.heights[i]});
  }
  if (readings.empty()) return {};
  const auto add = [&](const Hang& h) {
    if (!h.found || demand.routes[h.route].heights.empty()) return;
    readings.push_back({h.entry, h.route, h.leg + 1, interpolated(demand.routes[h.route], h)});
  };
  for (const Hang& h : hangs.premises) add(h);
  for (const Hang& h : hangs.headends) add(h);
  for (const Hang& h : hangs.sites) add(h);
  for (const auto& ends : hangs.duct_ends)
    for (const Hang& h : ends) add(h);
  std::sort(readings.begin(), readings.end());
  std::vector<std::pair<Point, Length>> known;
  for (const Reading& one : readings)
    if (known.empty() || known.back().first != one.at) known.emplace_back(one.at, one.height);
  return known;
}

}  // namespace plan
