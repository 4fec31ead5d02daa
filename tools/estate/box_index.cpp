#include "estate/box_index.h"

#include <algorithm>
#include <utility>

namespace withy {
namespace {

constexpr size_t fan = 16;

Box joined(const Box& a, const Box& b) {
  return {{std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y)},
          {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y)}};
}

}  // namespace

Box box_of(std::span<const plan::Point> points) {
  Box box{{INT64_MAX, INT64_MAX}, {INT64_MIN, INT64_MIN}};
  for (const plan::Point p : points) box = joined(box, {p, p});
  return box;
}

Box grown(Box box, int64_t by) {
  if (box.low.x > box.high.x) return box;
  return {{box.low.x - by, box.low.y - by}, {box.high.x + by, box.high.y + by}};
}

bool meet(const Box& a, const Box& b) {
  return a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y;
}

BoxIndex::BoxIndex(std::span<const Box> all) {
  std::vector<std::pair<uint64_t, uint32_t>> order;
  order.reserve(all.size());
  for (uint32_t i = 0; i < all.size(); ++i) {
    const Box& b = all[i];
    if (b.low.x > b.high.x) continue;
    order.emplace_back(
        plan::hilbert({b.low.x + (b.high.x - b.low.x) / 2, b.low.y + (b.high.y - b.low.y) / 2}), i);
  }
  if (order.empty()) return;
  std::sort(order.begin(), order.end());
  places_.reserve(order.size());
  boxes_.reserve(order.size() + order.size() / (fan - 1) + 8);
  for (const auto& [curve, i] : order) {
    places_.push_back(i);
    boxes_.push_back(all[i]);
  }
  levels_ = {0, boxes_.size()};
  while (levels_.back() - levels_[levels_.size() - 2] > 1) {
    const size_t begin = levels_[levels_.size() - 2], end = levels_.back();
    for (size_t i = begin; i < end; i += fan) {
      Box box = boxes_[i];
      for (size_t j = i + 1; j < std::min(i + fan, end); ++j) box = joined(box, boxes_[j]);
      boxes_.push_back(box);
    }
    levels_.push_back(boxes_.size());
  }
}

void BoxIndex::meeting(const Box& box, std::vector<uint32_t>& found) const {
  found.clear();
  if (boxes_.empty()) return;
  visit(boxes_.size() - 1, levels_.size() - 2, box, found);
  std::sort(found.begin(), found.end());
}

void BoxIndex::visit(size_t node, size_t level, const Box& box, std::vector<uint32_t>& found) const {
  if (found.size() >= most || !meet(boxes_[node], box)) return;
  if (level == 0) {
    found.push_back(places_[node]);
    return;
  }
  const size_t begin = levels_[level - 1] + (node - levels_[level]) * fan;
  for (size_t i = begin; i < std::min(begin + fan, levels_[level]); ++i) visit(i, level - 1, box, found);
}

}  // namespace withy
