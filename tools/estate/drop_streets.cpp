#include "estate/drop_streets.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace withy {
namespace {

using plan::Point;
using plan::Segment;

// Beyond these the index is faster than trying.
constexpr size_t most_tried = 256;
constexpr int64_t most_reach = 100'000;  // mm

bool may_leave(const DraftRoute& route) {
  return route.drops && route.duct == nullptr && route.forbidden.empty() && !route.line.empty();
}

std::vector<Segment> legs_of(std::span<const DraftRoute> routes, std::vector<uint32_t>& leg_routes) {
  std::vector<Segment> legs;
  for (uint32_t r = 0; r < routes.size(); ++r) {
    if (!may_leave(routes[r])) continue;
    const std::vector<Point>& line = routes[r].line;
    const size_t before = legs.size();
    for (size_t i = 0; i + 1 < line.size(); ++i)
      if (line[i] != line[i + 1]) legs.push_back({line[i], line[i + 1]});
    if (legs.size() == before) legs.push_back({line[0], line[0]});
    leg_routes.resize(legs.size(), r);
  }
  return legs;
}

BoxIndex boxes_of(std::span<const Segment> legs) {
  std::vector<Box> boxes;
  boxes.reserve(legs.size());
  for (const Segment& s : legs) {
    const Point ends[] = {s.a, s.b};
    boxes.push_back(box_of(ends));
  }
  return BoxIndex(boxes);
}

}  // namespace

DropStreets::DropStreets(std::span<const DraftRoute> routes)
    : legs_(legs_of(routes, leg_routes_)), index_(legs_), boxes_(boxes_of(legs_)) {
  route_names_.reserve(routes.size());
  for (const DraftRoute& r : routes) route_names_.push_back(names_.number(r.street));

  std::vector<std::vector<uint32_t>> by_name(names_.size());
  for (uint32_t leg = 0; leg < legs_.size(); ++leg)
    if (const uint32_t name = route_names_[leg_routes_[leg]]; name != StreetNames::none)
      by_name[name].push_back(leg);
  streets_.reserve(by_name.size());
  std::vector<Segment> own;
  for (std::vector<uint32_t>& legs : by_name) {
    own.clear();
    for (const uint32_t leg : legs) own.push_back(legs_[leg]);
    streets_.push_back({std::move(legs), plan::SegmentIndex(own)});
  }
}

Leave DropStreets::leave(uint32_t leg, Point p) const {
  const Point at = plan::nearest_point(legs_[leg], p);
  return {at, leg_routes_[leg], plan::to_whole_millimetres(plan::distance(at, p))};
}

// Tries every leg within reach; nothing where they are too many.
std::optional<uint32_t> DropStreets::nearest_leg(Point p, int64_t reach) const {
  double least = std::numeric_limits<double>::max();
  uint32_t best = 0;
  size_t seen = 0;
  boxes_.each_meeting(grown({p, p}, reach), [&](uint32_t leg) {
    const double square = plan::squared_distance(legs_[leg], {p, p});
    if (square < least || (square == least && leg < best)) least = square, best = leg;
    return ++seen < most_tried;
  });
  return seen > 0 && seen < most_tried ? std::optional(best) : std::nullopt;
}

std::optional<Leave> DropStreets::nearest(Point p, const std::optional<Leave>& known) const {
  if (known && known->length < most_reach)
    if (const std::optional<uint32_t> leg = nearest_leg(p, known->length + 1)) return leave(*leg, p);
  const std::optional<plan::NearestSegment> hit = index_.nearest(p);
  if (!hit) return std::nullopt;
  return leave(hit->segment, p);
}

std::optional<Leave> DropStreets::nearest_of(uint32_t name, Point p) const {
  if (name >= streets_.size()) return std::nullopt;
  const std::optional<plan::NearestSegment> hit = streets_[name].index.nearest(p);
  if (!hit) return std::nullopt;
  return leave(streets_[name].legs[hit->segment], p);
}

void DropStreets::within(Point p, int64_t reach, std::vector<Leave>& out) const {
  out.clear();
  std::vector<uint32_t> legs;
  boxes_.meeting(grown({p, p}, reach), legs);
  for (const uint32_t leg : legs) {
    const Leave here = leave(leg, p);
    if (here.length > reach) continue;
    if (!out.empty() && out.back().route == here.route) {
      if (here.length < out.back().length) out.back() = here;
    } else {
      out.push_back(here);
    }
  }
  std::sort(out.begin(), out.end(), [](const Leave& a, const Leave& b) {
    return std::tie(a.length, a.route) < std::tie(b.length, b.route);
  });
}

}  // namespace withy
