// Segments by the square cells that they touch, for questions about neighbours.
//
//   SegmentGrid grid(segments, cell);
//   grid.each_pair([](uint32_t a, uint32_t b) { … });        // a < b, pairs that share a cell, some twice
//   grid.near(point, reach, [](uint32_t s) { … });           // all within reach and some more, some twice
#pragma once
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "base/point.h"

namespace withy {

struct GridSegment {
  plan::Point a, b;
};

class SegmentGrid {
 public:
  SegmentGrid(const std::vector<GridSegment>& segments, int64_t cell) : cell_(std::max<int64_t>(1, cell)) {
    for (uint32_t i = 0; i < segments.size(); ++i) add(segments[i], i);
    std::sort(entries_.begin(), entries_.end());
  }
  // A cell in which the lines run at all their lengths a few times over; never so small that one line
  // touches more than a few hundred.
  static int64_t cell_for(const std::vector<GridSegment>& segments);

  template <class F>
  void each_pair(F&& f) const {
    for (size_t i = 0; i < entries_.size(); ++i)
      for (size_t j = i + 1; j < entries_.size() && entries_[j].first == entries_[i].first; ++j)
        if (!f(entries_[i].second, entries_[j].second)) return;
  }
  template <class F>
  void near(plan::Point p, int64_t reach, F&& f) const {
    for (int64_t y = row(p.y - reach); y <= row(p.y + reach); ++y)
      for (int64_t x = row(p.x - reach); x <= row(p.x + reach); ++x) {
        auto at = std::lower_bound(entries_.begin(), entries_.end(), std::pair{Cell{x, y}, uint32_t{0}});
        for (; at != entries_.end() && at->first == Cell{x, y}; ++at) f(at->second);
      }
  }

 private:
  using Cell = std::pair<int64_t, int64_t>;
  int64_t row(int64_t v) const { return v >= 0 ? v / cell_ : -((-v + cell_ - 1) / cell_); }
  void add(const GridSegment& s, uint32_t place);

  int64_t cell_;
  std::vector<std::pair<Cell, uint32_t>> entries_;
};

}  // namespace withy
