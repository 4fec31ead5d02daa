#include "solve/cutting.h"

#include <algorithm>
#include <numeric>

#include "base/check.h"

namespace plan {
namespace {

// The leftmost piece of stock with enough left, in O(log n).
class Rests {
 public:
  Rests(size_t n, int64_t capacity) {
    while (leaves_ < n) leaves_ *= 2;
    most_.assign(2 * leaves_, capacity);
  }
  uint32_t first_with(int64_t size) const {
    size_t at = 1;
    while (at < leaves_) at = most_[2 * at] >= size ? 2 * at : 2 * at + 1;
    return static_cast<uint32_t>(at - leaves_);
  }
  void take(uint32_t piece, int64_t size) {
    size_t at = leaves_ + piece;
    most_[at] = std::max<int64_t>(0, most_[at] - size);
    for (at /= 2; at > 0; at /= 2) most_[at] = std::max(most_[2 * at], most_[2 * at + 1]);
  }

 private:
  size_t leaves_ = 1;
  std::vector<int64_t> most_;
};

std::vector<uint32_t> cutting_order(std::span<const int64_t> sizes, std::span<const uint32_t> batches) {
  std::vector<uint32_t> order(sizes.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) {
    if (!batches.empty() && batches[a] != batches[b]) return batches[a] < batches[b];
    return sizes[a] > sizes[b];
  });
  return order;
}

int64_t divided_up(int64_t a, int64_t b) {
  return (a + b - 1) / b;
}

std::vector<int64_t> sorted_within(std::span<const int64_t> sizes, int64_t capacity) {
  std::vector<int64_t> sorted(sizes.begin(), sizes.end());
  for (int64_t& s : sorted) s = std::min(s, capacity);
  std::sort(sorted.begin(), sorted.end());
  return sorted;
}

}  // namespace

Cutting first_fit_decreasing(std::span<const int64_t> sizes, int64_t capacity,
                             std::span<const uint32_t> batches) {
  PLAN_CHECK(capacity > 0 && (batches.empty() || batches.size() == sizes.size()));
  Cutting out;
  out.stock.resize(sizes.size());
  Rests rests(sizes.size(), capacity);
  for (const uint32_t i : cutting_order(sizes, batches)) {
    PLAN_CHECK(sizes[i] >= 0);
    const bool too_long = sizes[i] > capacity;
    const uint32_t piece = too_long ? static_cast<uint32_t>(out.used.size()) : rests.first_with(sizes[i]);
    if (piece >= out.used.size()) out.used.push_back(0);
    rests.take(piece, sizes[i]);
    out.stock[i] = piece;
    out.used[piece] += sizes[i];
  }
  return out;
}

int64_t material_bound(std::span<const int64_t> sizes, int64_t capacity) {
  PLAN_CHECK(capacity > 0);
  int64_t sum = 0;
  for (const int64_t s : sizes) sum += std::min(s, capacity);
  return divided_up(sum, capacity);
}

// For each threshold a up to half the capacity: sizes above capacity - a stand alone, those above half
// do not share with each other, and those from a to half fill what the latter leave.
int64_t martello_toth_bound(std::span<const int64_t> sizes, int64_t capacity) {
  const std::vector<int64_t> w = sorted_within(sizes, capacity);
  std::vector<int64_t> sums(w.size() + 1, 0);
  std::partial_sum(w.begin(), w.end(), sums.begin() + 1);
  const auto above = [&](int64_t v) {
    return static_cast<size_t>(std::upper_bound(w.begin(), w.end(), v) - w.begin());
  };
  const size_t half = above(capacity / 2);
  int64_t best = material_bound(sizes, capacity);
  for (size_t first = 0; first <= half; ++first) {
    if (first < half && first > 0 && w[first] == w[first - 1]) continue;
    const int64_t a = first < half ? w[first] : capacity / 2;
    const size_t alone = std::max(half, above(capacity - a));
    const int64_t large = static_cast<int64_t>(w.size() - half);
    const int64_t left = static_cast<int64_t>(alone - half) * capacity - (sums[alone] - sums[half]);
    const int64_t small = sums[half] - sums[first];
    best = std::max(best, large + std::max<int64_t>(0, divided_up(small - left, capacity)));
  }
  return best;
}

}  // namespace plan
