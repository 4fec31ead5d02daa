#include "estate/segment_grid.h"

namespace withy {

int64_t SegmentGrid::cell_for(const std::vector<GridSegment>& segments) {
  double sum = 0, longest = 0;
  for (const GridSegment& s : segments) {
    const double length = std::hypot(static_cast<double>(s.b.x - s.a.x), static_cast<double>(s.b.y - s.a.y));
    sum += length;
    longest = std::max(longest, length);
  }
  const double mean = segments.empty() ? 0 : sum / static_cast<double>(segments.size());
  return static_cast<int64_t>(std::max({mean, longest / 200, 1000.0}));
}

// Row by row the cells between the two places where the segment enters and leaves the row.
void SegmentGrid::add(const GridSegment& s, uint32_t place) {
  const plan::Point low = s.a.y <= s.b.y ? s.a : s.b, high = s.a.y <= s.b.y ? s.b : s.a;
  const double climb = static_cast<double>(high.y - low.y);
  const auto x_at = [&](int64_t y) -> int64_t {
    if (climb == 0) return low.x;
    const double share = std::clamp(static_cast<double>(y - low.y) / climb, 0.0, 1.0);
    return low.x + std::llround(share * static_cast<double>(high.x - low.x));
  };
  for (int64_t r = row(low.y); r <= row(high.y); ++r) {
    const int64_t enters = climb == 0 ? s.a.x : x_at(r * cell_);
    const int64_t leaves = climb == 0 ? s.b.x : x_at((r + 1) * cell_);
    const int64_t first = row(std::min(enters, leaves) - 1), last = row(std::max(enters, leaves) + 1);
    for (int64_t c = first; c <= last; ++c) entries_.push_back({{c, r}, place});
  }
}

}  // namespace withy
