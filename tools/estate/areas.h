// Areas (buildings, plots) in one table of points, and what is asked of them. An area is all rings of
// its parts; a place is inside where it is inside an odd number of them, so courtyards are outside and
// parts may lie apart. Plane geometry in whole millimetres, measured in doubles.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "base/point.h"
#include "estate/box_index.h"
#include "estate/map.h"
#include "estate/plane.h"

namespace withy {

class Areas {
 public:
  // Becomes the last area. Open rings are closed; rings of fewer than three places are left out, an outer
  // one with its whole part. An area may end up without rings: ask nothing of it but its box.
  void add(std::span<const MapPart> parts, const Plane& plane);

  size_t size() const { return area_rings_.size() - 1; }
  size_t rings(size_t area) const { return area_rings_[area + 1] - area_rings_[area]; }
  std::span<const plan::Point> ring(size_t area, size_t ring) const;  // closed
  bool outer(size_t area, size_t ring) const { return outer_[area_rings_[area] + ring]; }

 private:
  std::vector<plan::Point> points_;
  std::vector<size_t> ring_points_{0};  // where each ring begins, and the end
  std::vector<size_t> area_rings_{0};   // where each area begins, and the end
  std::vector<bool> outer_;             // of each ring
};

Box box_of(const Areas& areas, size_t area);
// Sum of the outer rings, in mm2: a courtyard counts as built on.
double outer_size(const Areas& areas, size_t area);
// Centroid of its largest outer ring; may lie outside the area. Its first point where that has no size.
plan::Point centre_of(const Areas& areas, size_t area);
bool contains(const Areas& areas, size_t area, plan::Point p);
// From `p` to the area, mm2; 0 inside.
double square_to(const Areas& areas, size_t area, plan::Point p);
// The point of its outer rings nearest to `p`; the first of equals. The area has rings.
plan::Point wall_point(const Areas& areas, size_t area, plan::Point p);
// Whether the straight line from a to b crosses the leg p to q; not where it only begins or ends on it.
bool crosses(plan::Point a, plan::Point b, plan::Point p, plan::Point q);
// The stretches of the straight line from a to b that lie inside, as shares of the way 0 … 1 in order.
struct Stretch {
  double from, to;
};
void stretches_inside(const Areas& areas, size_t area, plan::Point a, plan::Point b,
                      std::vector<Stretch>& out);

}  // namespace withy
