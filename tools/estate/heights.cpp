#include "estate/heights.h"

#include <algorithm>
#include <cmath>

namespace withy {
namespace {

// No ground is as far above or below the level of the sea (from memory: 8.8 km, 10.9 km).
constexpr double farthest_height = 12'000;  // m

void climb_evenly(DraftRoute& r) {
  double length = 0, gone = 0;
  for (size_t i = 1; i < r.line.size(); ++i)
    length += plan::in_metres(plan::distance(r.line[i - 1], r.line[i]));
  const double from = r.heights.front(), to = r.heights.back();
  for (size_t i = 1; i + 1 < r.line.size(); ++i) {
    gone += plan::in_metres(plan::distance(r.line[i - 1], r.line[i]));
    r.heights[i] = static_cast<int32_t>(std::lround(from + (to - from) * gone / length));
  }
}

}  // namespace

HeightCounts lay_heights(Draft& draft, const Plane& plane, const HeightsAt& heights_at) {
  std::vector<MapPlace> places;
  for (const DraftRoute& r : draft.routes)
    for (const plan::Point p : r.line) places.push_back(plane.inverse(p));
  std::vector<double> heights = heights_at(places);
  heights.resize(places.size(), no_height);
  for (double& h : heights)
    if (!(std::abs(h) <= farthest_height)) h = no_height;
  HeightCounts counts;
  size_t first = 0;
  for (DraftRoute& r : draft.routes) {
    const size_t end = first + r.line.size();
    const auto from = heights.begin() + static_cast<std::ptrdiff_t>(first),
               to = heights.begin() + static_cast<std::ptrdiff_t>(end);
    const bool spans_air = r.bridge || r.tunnel;
    const auto unknown =
        spans_air ? (heights[first] == no_height ? from : to - 1) : std::find(from, to, no_height);
    if (unknown != to && *unknown == no_height) {
      ++counts.without;
      draft.remarks.push_back({RemarkKind::doubtful,
                               "street without heights: the elevation model has a void",
                               r.id,
                               places[static_cast<size_t>(unknown - heights.begin())],
                               {}});
    } else {
      for (size_t i = first; i < end; ++i)
        r.heights.push_back(heights[i] == no_height ? 0
                                                    : static_cast<int32_t>(std::lround(heights[i] * 1000)));
      if (spans_air) climb_evenly(r);
      ++counts.routes;
    }
    first = end;
  }
  return counts;
}

}  // namespace withy
