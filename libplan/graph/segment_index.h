// The nearest of many straight legs, by distance, ties by their order in the table given.
//
//   SegmentIndex index(legs);                           // legs in the order that ties shall follow
//   if (auto hit = index.nearest(point)) nearest_point(legs[hit->segment], point)
//   index.gap(leg)                                      // between two legs; 0 where they cross
//
// A static box tree: legs in Hilbert order of their middles, sixteen to a box, boxes to boxes. Unlike a
// uniform grid its cost does not depend on how the estate is spread: a lone far village, or premises
// that all lie far outside, cost the same O(log n) a query. Copies of a leg are kept once.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "base/point.h"

namespace plan {

struct Segment {
  Point a, b;
  friend bool operator==(const Segment&, const Segment&) = default;
};

struct NearestSegment {
  uint32_t segment = UINT32_MAX;  // its place in the table given
  double square = 0;              // squared distance, mm2
  uint32_t leaf = 0;              // its place in the index
};

class SegmentIndex {
 public:
  explicit SegmentIndex(std::span<const Segment> segments);
  std::optional<NearestSegment> nearest(Point p) const;  // nothing where there are no segments
  // The same answer, several times faster where `near`, the answer for some other point, lies close.
  std::optional<NearestSegment> nearest(Point p, const std::optional<NearestSegment>& near) const;
  std::optional<Length> gap(const Segment& s) const;  // rounded to whole millimetres

 private:
  struct Box {
    double x0, y0, x1, y1;
    uint32_t first;  // least place of a segment within
  };
  class Finder;

  std::vector<Segment> segments_;  // in Hilbert order
  std::vector<uint32_t> places_;   // of each in the table given
  std::vector<Box> boxes_;         // level by level from the leaves
  std::vector<size_t> levels_;     // where each level begins, and the end
};

// Squared distance of two segments in mm2; a point is a segment of no length.
double squared_distance(const Segment& s, const Segment& t);
// The point of `s` nearest to `p`, rounded to whole millimetres.
Point nearest_point(const Segment& s, Point p);

}  // namespace plan
