// Boxes asked by place: which of them meet a given one.
//
//   BoxIndex index(boxes);
//   std::vector<uint32_t> found;
//   index.meeting(box_of(drop), found);   // places in the table given, ascending
//
// A static tree of boxes in Hilbert order of their middles, sixteen to a box: O(log n + found) a query
// wherever the boxes lie. A box without extent is a point; boxes that touch meet. Where more than `most`
// meet, which a real map never has, only so many are found: a million boxes on one spot cost no more.
#pragma once
#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "base/point.h"

namespace withy {

struct Box {
  plan::Point low, high;  // low > high: meets nothing
};
Box box_of(std::span<const plan::Point> points);  // of none: meets nothing
plan::Point middle(const Box& box);
// Place along the Hilbert curve around `centre`: the curve reaches 2,147 km, northings of a zone farther.
uint64_t curve_place(plan::Point p, plan::Point centre);
Box grown(Box box, int64_t millimetres);
inline bool meet(const Box& a, const Box& b) {
  return a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y;
}

class BoxIndex {
 public:
  BoxIndex() = default;
  explicit BoxIndex(std::span<const Box> boxes);
  static constexpr size_t most = 4096;
  // Replaces `found`.
  void meeting(const Box& box, std::vector<uint32_t>& found) const;
  // Calls see(place) for each, in no particular order, until it answers false.
  template <class F>
  void each_meeting(const Box& box, F see) const {
    if (!boxes_.empty()) visit(boxes_.size() - 1, levels_.size() - 2, box, see);
  }

 private:
  static constexpr size_t fan = 16;
  template <class F>
  bool visit(size_t node, size_t level, const Box& box, F& see) const {
    if (!meet(boxes_[node], box)) return true;
    if (level == 0) return see(places_[node]);
    const size_t begin = levels_[level - 1] + (node - levels_[level]) * fan;
    for (size_t i = begin; i < std::min(begin + fan, levels_[level]); ++i)
      if (!visit(i, level - 1, box, see)) return false;
    return true;
  }

  std::vector<uint32_t> places_;  // of each leaf in the table given
  std::vector<Box> boxes_;        // level by level from the leaves
  std::vector<size_t> levels_;    // where each level begins, and the end
};

}  // namespace withy
