#include "estate/box_index.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace withy {
namespace {

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

plan::Point middle(const Box& b) {
  return {b.low.x / 2 + b.high.x / 2, b.low.y / 2 + b.high.y / 2};
}

uint64_t curve_place(plan::Point p, plan::Point centre) {
  return plan::hilbert({p.x - centre.x, p.y - centre.y});
}

Box grown(Box box, int64_t by) {
  if (box.low.x > box.high.x) return box;
  return {{box.low.x - by, box.low.y - by}, {box.high.x + by, box.high.y + by}};
}

BoxIndex::BoxIndex(std::span<const Box> all) {
  std::vector<std::pair<uint64_t, uint32_t>> order;
  order.reserve(all.size());
  const plan::Point centre = middle(std::accumulate(all.begin(), all.end(), box_of({}), joined));
  for (uint32_t i = 0; i < all.size(); ++i)
    if (all[i].low.x <= all[i].high.x) order.emplace_back(curve_place(middle(all[i]), centre), i);
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
  each_meeting(box, [&](uint32_t place) {
    found.push_back(place);
    return found.size() < most;
  });
  std::sort(found.begin(), found.end());
}

}  // namespace withy
