#include "base/point.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <set>
#include <utility>
#include <vector>

using namespace plan;
using doctest::Approx;

TEST_CASE("distances in whole millimetres") {
  CHECK(distance({0, 0}, {3000, 4000}) == metres(5));
  CHECK(distance({0, 0}, {1, 1}) == millimetres(1));
  const std::array line{Point{0, 0}, Point{3000, 4000}, Point{3000, 14000}};
  CHECK(polyline_length(line) == metres(15));
  CHECK(polyline_length({}) == Length{});
}

TEST_CASE("turns") {
  CHECK(in_degrees(turn({0, 0}, {10, 0}, {20, 0})) == Approx(0));
  CHECK(in_degrees(turn({0, 0}, {10, 0}, {10, 5})) == Approx(90));
  CHECK(in_degrees(turn({0, 0}, {10, 0}, {10, -5})) == Approx(90));
  CHECK(in_degrees(turn({0, 0}, {10, 0}, {0, 0})) == Approx(180));
  CHECK(in_degrees(turn({0, 0}, {10, 0}, {20, 10})) == Approx(45));
  CHECK(in_degrees(turn({5, 5}, {5, 5}, {20, 10})) == Approx(0));  // a leg of no length has no direction
}

TEST_CASE("the Hilbert curve visits an aligned square cell by cell, each next to the last") {
  std::vector<std::pair<uint64_t, Point>> cells;
  for (int64_t x = 0; x < 32; ++x)
    for (int64_t y = 0; y < 32; ++y) cells.push_back({hilbert({x, y}), {x, y}});
  std::sort(cells.begin(), cells.end());
  for (size_t i = 1; i < cells.size(); ++i) {
    CHECK(cells[i].first == cells[i - 1].first + 1);
    const Point a = cells[i - 1].second, b = cells[i].second;
    CHECK(std::abs(a.x - b.x) + std::abs(a.y - b.y) == 1);
  }
}

TEST_CASE("positions beyond the plane are held at its edge") {
  const int64_t edge = (int64_t{1} << 31) - 1;
  CHECK(hilbert({edge, 0}) == hilbert({edge * 4, 0}));
  CHECK(hilbert({-edge - 1, -edge - 1}) == hilbert({-edge * 4, -edge * 4}));
  CHECK(hilbert({-edge - 1, -edge - 1}) == 0);
  CHECK(hilbert({-1, -1}) != hilbert({0, 0}));
}
