#include "estate/areas.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "graph/segment_index.h"

namespace withy {
namespace {

using plan::Point;

double across(Point a, Point b) {
  return static_cast<double>(b.x - a.x);
}
double along(Point a, Point b) {
  return static_cast<double>(b.y - a.y);
}
// Twice the area left of a → b → p.
double side(Point a, Point b, Point p) {
  return across(a, b) * along(a, p) - along(a, b) * across(a, p);
}

// Twice its size with sign, measured from its first point.
double signed_size(std::span<const Point> ring) {
  double sum = 0;
  for (size_t i = 1; i + 1 < ring.size(); ++i) sum += side(ring[0], ring[i], ring[i + 1]);
  return sum;
}

Point centroid(std::span<const Point> ring) {
  double size = 0, x = 0, y = 0;
  for (size_t i = 1; i + 1 < ring.size(); ++i) {
    const double part = side(ring[0], ring[i], ring[i + 1]);
    size += part;
    x += part * (across(ring[0], ring[i]) + across(ring[0], ring[i + 1]));
    y += part * (along(ring[0], ring[i]) + along(ring[0], ring[i + 1]));
  }
  if (size == 0) return ring[0];
  return {ring[0].x + std::llround(x / size / 3), ring[0].y + std::llround(y / size / 3)};
}

// The straight line a to b crosses the leg p to q when their ends lie on two sides of it; a point on the
// line counts as right of it, so that a ring is crossed an even number of times.
bool straddles(Point a, Point b, Point p, Point q) {
  return (side(a, b, p) > 0) != (side(a, b, q) > 0);
}

}  // namespace

void Areas::add(std::span<const MapPart> parts, const Plane& plane) {
  for (const MapPart& part : parts)
    for (size_t r = 0; r < part.rings.size(); ++r) {
      if (part.rings[r].size() < 3) {
        if (r == 0) break;
        continue;
      }
      const size_t begin = points_.size();
      for (const MapPlace& place : part.rings[r]) points_.push_back(plane.forward(place));
      if (points_.back() != points_[begin]) {
        const Point first = points_[begin];
        points_.push_back(first);
      }
      ring_points_.push_back(points_.size());
      outer_.push_back(r == 0);
    }
  area_rings_.push_back(outer_.size());
}

std::span<const Point> Areas::ring(size_t area, size_t ring) const {
  const size_t i = area_rings_[area] + ring;
  return std::span(points_).subspan(ring_points_[i], ring_points_[i + 1] - ring_points_[i]);
}

Box box_of(const Areas& areas, size_t area) {
  Box box = box_of(std::span<const Point>{});
  for (size_t r = 0; r < areas.rings(area); ++r) {
    const Box b = box_of(areas.ring(area, r));
    const Point corners[] = {b.low, b.high, box.low, box.high};
    box = r == 0 ? b : box_of(corners);
  }
  return box;
}

double outer_size(const Areas& areas, size_t area) {
  double sum = 0;
  for (size_t r = 0; r < areas.rings(area); ++r)
    if (areas.outer(area, r)) sum += std::abs(signed_size(areas.ring(area, r))) / 2;
  return sum;
}

Point centre_of(const Areas& areas, size_t area) {
  size_t largest = 0;
  double size = -1;
  for (size_t r = 0; r < areas.rings(area); ++r) {
    if (!areas.outer(area, r)) continue;
    const double here = std::abs(signed_size(areas.ring(area, r)));
    if (here > size) size = here, largest = r;
  }
  return centroid(areas.ring(area, largest));
}

bool contains(const Areas& areas, size_t area, Point p) {
  bool inside = false;
  for (size_t r = 0; r < areas.rings(area); ++r) {
    const std::span<const Point> ring = areas.ring(area, r);
    for (size_t i = 0; i + 1 < ring.size(); ++i) {
      const Point a = ring[i], b = ring[i + 1];
      if ((a.y > p.y) == (b.y > p.y)) continue;
      const bool up = b.y > a.y;
      if ((side(a, b, p) > 0) == up) inside = !inside;
    }
  }
  return inside;
}

double square_to(const Areas& areas, size_t area, Point p) {
  if (contains(areas, area, p)) return 0;
  double least = std::numeric_limits<double>::max();
  for (size_t r = 0; r < areas.rings(area); ++r) {
    const std::span<const Point> ring = areas.ring(area, r);
    for (size_t i = 0; i + 1 < ring.size(); ++i)
      least = std::min(least, plan::squared_distance({ring[i], ring[i + 1]}, {p, p}));
  }
  return least;
}

Point wall_point(const Areas& areas, size_t area, Point p) {
  double least = std::numeric_limits<double>::max();
  Point best = p;
  for (size_t r = 0; r < areas.rings(area); ++r) {
    if (!areas.outer(area, r)) continue;
    const std::span<const Point> ring = areas.ring(area, r);
    for (size_t i = 0; i + 1 < ring.size(); ++i) {
      const plan::Segment leg{ring[i], ring[i + 1]};
      const double square = plan::squared_distance(leg, {p, p});
      if (square < least) least = square, best = plan::nearest_point(leg, p);
    }
  }
  return best;
}

bool crosses(Point a, Point b, Point p, Point q) {
  if (!straddles(a, b, p, q)) return false;
  const double begin = side(p, q, a), end = side(p, q, b);
  return (begin < 0 && end > 0) || (begin > 0 && end < 0);
}

void stretches_inside(const Areas& areas, size_t area, Point a, Point b, std::vector<Stretch>& out) {
  out.clear();
  if (a == b) return;
  std::vector<double> cuts;
  for (size_t r = 0; r < areas.rings(area); ++r) {
    const std::span<const Point> ring = areas.ring(area, r);
    for (size_t i = 0; i + 1 < ring.size(); ++i) {
      const Point p = ring[i], q = ring[i + 1];
      if (!straddles(a, b, p, q)) continue;
      const double down = side(p, q, a), up = side(p, q, b);
      cuts.push_back(down == up ? 0.0 : down / (down - up));
    }
  }
  std::sort(cuts.begin(), cuts.end());
  for (size_t i = 0; i + 1 < cuts.size(); i += 2) {
    const Stretch s{std::clamp(cuts[i], 0.0, 1.0), std::clamp(cuts[i + 1], 0.0, 1.0)};
    if (s.to > s.from) out.push_back(s);
  }
}

}  // namespace withy
