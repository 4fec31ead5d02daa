#include "estate/obstacles.h"

#include <cmath>

namespace withy {
namespace {

using plan::Point;

BoxIndex boxes_of(const Areas& areas, const std::vector<bool>& left_out) {
  std::vector<Box> boxes(areas.size(), box_of(std::span<const Point>{}));
  for (size_t i = 0; i < areas.size(); ++i)
    if (left_out.empty() || !left_out[i]) boxes[i] = box_of(areas, i);
  return BoxIndex(boxes);
}

Areas plot_areas(const Map& map, const Plane& plane) {
  Areas plots;
  for (const MapPlot& plot : map.plots) plots.add(plot.parts, plane);
  return plots;
}

Box drop_box(Point a, Point b) {
  const Point ends[] = {a, b};
  return box_of(ends);
}

ObstacleKind kind_of(BarrierKind kind) {
  switch (kind) {
    case BarrierKind::water:
      return ObstacleKind::water;
    case BarrierKind::motorway:
      return ObstacleKind::motorway;
    default:
      return ObstacleKind::rail;
  }
}

}  // namespace

Obstacles::Obstacles(const Map& map, const Areas& buildings, const std::vector<bool>& left_out,
                     const Plane& plane)
    : map_(map), buildings_(buildings), plots_(plot_areas(map, plane)), with_premises_(map.plots.size()) {
  building_boxes_ = boxes_of(buildings_, left_out);
  plot_boxes_ = boxes_of(plots_, {});
  std::vector<Box> boxes;
  for (uint32_t i = 0; i < map.barriers.size(); ++i) {
    const MapBarrier& barrier = map.barriers[i];
    if (barrier.tunnel) continue;
    for (size_t j = 0; j + 1 < barrier.line.size(); ++j) {
      const Point a = plane.forward(barrier.line[j]), b = plane.forward(barrier.line[j + 1]);
      barriers_.push_back({a, b, i});
      boxes.push_back(drop_box(a, b));
    }
  }
  barrier_boxes_ = BoxIndex(boxes);
}

std::optional<uint32_t> Obstacles::plot_at(Point p) const {
  std::vector<uint32_t> found;
  plot_boxes_.meeting({p, p}, found);
  std::optional<uint32_t> best;
  double least = 0;
  for (const uint32_t i : found) {
    if (!contains(plots_, i, p)) continue;
    const double size = outer_size(plots_, i);
    if (!best || size < least) best = i, least = size;
  }
  return best;
}

bool Obstacles::through(const Areas& areas, uint32_t area, Point a, Point b, int64_t spared) const {
  std::vector<Stretch> inside;
  stretches_inside(areas, area, a, b, inside);
  double share = 0;
  for (const Stretch& s : inside) share += s.to - s.from;
  const double length = std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
  return share * length > static_cast<double>(spared);
}

std::optional<Obstacle> Obstacles::first_barrier(Point a, Point b) const {
  std::vector<uint32_t> found;
  barrier_boxes_.meeting(drop_box(a, b), found);
  for (const uint32_t i : found) {
    const Barrier& leg = barriers_[i];
    if (!crosses(a, b, leg.a, leg.b)) continue;
    const MapBarrier& barrier = map_.barriers[leg.barrier];
    return Obstacle{kind_of(barrier.kind), barrier.id};
  }
  return std::nullopt;
}

std::optional<Obstacle> Obstacles::first(Point a, Point b, Own own, int64_t spared) const {
  if (a == b) return std::nullopt;
  std::vector<uint32_t> found;
  building_boxes_.meeting(drop_box(a, b), found);
  for (const uint32_t i : found)
    if (i != own.building && through(buildings_, i, a, b, spared))
      return Obstacle{ObstacleKind::building, map_.buildings[i].id};
  plot_boxes_.meeting(drop_box(a, b), found);
  for (const uint32_t i : found)
    if (i != own.plot && with_premises_[i] && through(plots_, i, a, b, spared))
      return Obstacle{ObstacleKind::plot, map_.plots[i].id};
  return first_barrier(a, b);
}

std::optional<int64_t> Obstacles::boundary(Point a, Point b, uint32_t plot) const {
  std::vector<Stretch> inside;
  stretches_inside(plots_, plot, a, b, inside);
  const double length = std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
  const double share = inside.empty() ? 1 : inside.back().from;
  const int64_t at = std::llround(share * length);
  return at > 0 ? std::optional(at) : std::nullopt;
}

}  // namespace withy
