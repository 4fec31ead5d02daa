#include "solve/cutting.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

using namespace plan;

namespace {

// Fewest pieces of stock, by trying every piece for every size: shares nothing with the code under test.
size_t fewest(const std::vector<int64_t>& sizes, int64_t capacity, std::vector<int64_t> left = {},
              size_t i = 0) {
  if (i == sizes.size()) return left.size();
  size_t best = SIZE_MAX;
  for (size_t k = 0; k < left.size(); ++k) {
    if (left[k] < sizes[i]) continue;
    left[k] -= sizes[i];
    best = std::min(best, fewest(sizes, capacity, left, i + 1));
    left[k] += sizes[i];
  }
  left.push_back(capacity - sizes[i]);
  return std::min(best, fewest(sizes, capacity, left, i + 1));
}

// First fit by its definition, one piece after another.
std::vector<uint32_t> plain_first_fit(const std::vector<int64_t>& sizes, int64_t capacity) {
  std::vector<size_t> order(sizes.size());
  for (size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](size_t a, size_t b) { return sizes[a] > sizes[b]; });
  std::vector<int64_t> left;
  std::vector<uint32_t> stock(sizes.size());
  for (const size_t i : order) {
    size_t k = 0;
    while (k < left.size() && left[k] < sizes[i]) ++k;
    if (k == left.size()) left.push_back(capacity);
    left[k] -= sizes[i];
    stock[i] = static_cast<uint32_t>(k);
  }
  return stock;
}

}  // namespace

TEST_CASE("worked cases of cutting") {
  // Derived by enumeration beside the published first-fit rule; the oracle above repeats the optimum.
  const std::vector<int64_t> one{5, 5, 4, 4, 3, 3, 3, 3};
  CHECK(first_fit_decreasing(one, 10).used.size() == 4);
  CHECK(fewest(one, 10) == 3);
  CHECK(material_bound(one, 10) == 3);
  const std::vector<int64_t> two{44, 24, 24, 22, 21, 17, 8, 8, 6, 6};
  CHECK(first_fit_decreasing(two, 61).used.size() == 4);
  CHECK(fewest(two, 61) == 3);
  const std::vector<int64_t> three{6, 6, 6};
  CHECK(material_bound(three, 10) == 2);
  CHECK(martello_toth_bound(three, 10) == 3);
  CHECK(first_fit_decreasing(three, 10).used.size() == 3);
}

TEST_CASE("bound <= optimum <= first fit decreasing <= 11/9 optimum + 6/9") {
  std::mt19937 random(7);
  for (int round = 0; round < 300; ++round) {
    std::vector<int64_t> sizes;
    for (size_t n = 1 + random() % 8; n > 0; --n) sizes.push_back(1 + static_cast<int64_t>(random() % 30));
    const auto best = static_cast<int64_t>(fewest(sizes, 30));
    const Cutting c = first_fit_decreasing(sizes, 30);
    const auto got = static_cast<int64_t>(c.used.size());
    CHECK(material_bound(sizes, 30) <= martello_toth_bound(sizes, 30));
    CHECK(martello_toth_bound(sizes, 30) <= best);
    CHECK(best <= got);
    CHECK(9 * got <= 11 * best + 6);  // Dosa 2007
    CHECK(c.stock == plain_first_fit(sizes, 30));
  }
}

TEST_CASE("batches are taken in order and use up what is left over") {
  const std::vector<int64_t> sizes{4, 9, 3, 6};
  const std::vector<uint32_t> batches{0, 1, 0, 1};
  const Cutting c = first_fit_decreasing(sizes, 10, batches);
  CHECK(c.stock == std::vector<uint32_t>{0, 1, 0, 2});  // 4 and 3 first; 9 and 6 do not fit on what is left
  CHECK(c.used == std::vector<int64_t>{7, 9, 6});
  const Cutting whole = first_fit_decreasing(sizes, 10);
  CHECK(whole.used == std::vector<int64_t>{9, 10, 3});
}

TEST_CASE("a size above the capacity gets a piece of its own") {
  const Cutting c = first_fit_decreasing(std::vector<int64_t>{25, 5, 5}, 10);
  CHECK(c.used == std::vector<int64_t>{25, 10});
  CHECK(martello_toth_bound(std::vector<int64_t>{25, 5, 5}, 10) == 2);
  CHECK(first_fit_decreasing({}, 10).used.empty());
}
