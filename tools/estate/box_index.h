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
#include <cstdint>
#include <span>
#include <vector>

#include "base/point.h"

namespace withy {

struct Box {
  plan::Point low, high;  // low > high: meets nothing
};
Box box_of(std::span<const plan::Point> points);  // of none: meets nothing
Box grown(Box box, int64_t millimetres);
bool meet(const Box& a, const Box& b);

class BoxIndex {
 public:
  BoxIndex() = default;
  explicit BoxIndex(std::span<const Box> boxes);
  static constexpr size_t most = 4096;
  // Replaces `found`.
  void meeting(const Box& box, std::vector<uint32_t>& found) const;

 private:
  void visit(size_t node, size_t level, const Box& box, std::vector<uint32_t>& found) const;

  std::vector<uint32_t> places_;  // of each leaf in the table given
  std::vector<Box> boxes_;        // level by level from the leaves
  std::vector<size_t> levels_;    // where each level begins, and the end
};

}  // namespace withy
