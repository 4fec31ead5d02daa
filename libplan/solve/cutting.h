// Cutting lengths from stock of one length (bin packing), and certified bounds on the stock needed.
//
// First-fit decreasing uses at most 11/9 opt + 6/9 pieces of stock (Dósa, ESCAPE 2007). With batches, the
// sizes are taken batch by batch, the largest of a batch first, and what is left over goes on to the next
// batch: the order of use stays, at the price of that guarantee. A size above the capacity gets a piece of
// its own, as long as itself. Ties go to the smaller index. O(n log n).
//
//   Cutting c = first_fit_decreasing(sizes, 61);      c.stock[i] = piece that size i is cut from
//   int64_t least = martello_toth_bound(sizes, 61);   // no cutting needs fewer
#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace plan {

struct Cutting {
  std::vector<uint32_t> stock;  // of each size: the piece it is cut from, numbered as opened
  std::vector<int64_t> used;    // of each piece: the sum of its sizes
  friend bool operator==(const Cutting&, const Cutting&) = default;
};

// Sizes at least 0, capacity above 0; `batches` empty or one number for each size, taken in rising order.
Cutting first_fit_decreasing(std::span<const int64_t> sizes, int64_t capacity,
                             std::span<const uint32_t> batches = {});

// L1 = sum of sizes / capacity, rounded up: the material bound. Sizes above the capacity count as one.
int64_t material_bound(std::span<const int64_t> sizes, int64_t capacity);
// max(L1, L2) of Martello and Toth (Discrete Applied Mathematics 28, 1990): sizes above half the
// capacity never share a piece.
int64_t martello_toth_bound(std::span<const int64_t> sizes, int64_t capacity);

}  // namespace plan
