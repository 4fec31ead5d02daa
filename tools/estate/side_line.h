// A line beside a line. Private to both_sides.cpp.
//
// Bends keep the distance: outer ones by a mitre of at most `mitre_limit` distances, else a bevel; legs that
// an inner bend swallows vanish. Where the line bends tighter than the distance, the side takes the short
// way; it never runs back.
#pragma once
#include <cstdint>
#include <vector>

#include "estate/draft.h"
#include "estate/route_line.h"

namespace withy {

constexpr double mitre_limit = 3;

// Beside the place `at`, square to its leg; `half` > 0 left of the line, mm.
plan::Point side_foot(const std::vector<plan::Point>& line, const Stations& stations, double at, double half);

// The side of `centre` through feet: from the first place to the last, each of `at` with its point of
// `feet` becoming a vertex. Ascending places, at least two. `out` takes line and heights.
struct SideStops {
  std::vector<double> at;
  std::vector<plan::Point> feet;
};
void lay_side(const DraftRoute& centre, const SideStops& stops, double half, DraftRoute& out);

}  // namespace withy
