// Positions on the plan's plane: whole millimetres east and north of the estate's origin. Longitude
// and latitude are projected once, at the door; everything after works in this plane.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "base/quantity.h"

namespace plan {

struct Point {
  int64_t x = 0;  // mm east
  int64_t y = 0;  // mm north
  friend constexpr bool operator==(Point, Point) = default;
  friend constexpr auto operator<=>(Point, Point) = default;
};

// Straight distance, rounded to whole millimetres.
Length distance(Point a, Point b);
// Length of a polyline: the sum of its legs, each rounded to whole millimetres.
Length polyline_length(std::span<const Point> line);
// Adds `piece` to the end of `line`, from its last point to its first unless `forward`; no point twice in a
// row.
void extend_line(std::vector<Point>& line, std::span<const Point> piece, bool forward);
// Change of direction at b when going a, b, c: 0 straight on, pi back again.
Angle turn(Point a, Point b, Point c);
// Position along the Hilbert curve of order 32 over the whole plane; near points are mostly near in it.
// The order of all ids: sort by (hilbert(at), name).
uint64_t hilbert(Point p);

}  // namespace plan
