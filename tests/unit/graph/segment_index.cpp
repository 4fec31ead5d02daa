#include "graph/segment_index.h"

#include <doctest/doctest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <cmath>
#include <random>

using namespace plan;

namespace {

std::vector<Segment> random_segments(size_t count, uint32_t seed) {
  std::mt19937 draw(seed);
  std::vector<Segment> s;
  for (size_t i = 0; i < count; ++i) {
    const Point a{static_cast<int64_t>(draw() % 2'000'000), static_cast<int64_t>(draw() % 2'000'000)};
    s.push_back({a,
                 {a.x + static_cast<int64_t>(draw() % 100'000) - 50'000,
                  a.y + static_cast<int64_t>(draw() % 100'000) - 50'000}});
  }
  return s;
}

std::vector<Point> random_points(size_t count, uint32_t seed) {
  std::mt19937 draw(seed);
  std::vector<Point> p;
  for (size_t i = 0; i < count; ++i)
    p.push_back({static_cast<int64_t>(draw() % 2'400'000) - 200'000,
                 static_cast<int64_t>(draw() % 2'400'000) - 200'000});
  return p;
}

}  // namespace

TEST_CASE("distances between segments, drawn") {
  const Segment flat{{0, 0}, {100, 0}};
  CHECK(squared_distance(flat, {{50, 30}, {50, 30}}) == 900);
  CHECK(squared_distance(flat, {{130, 40}, {130, 40}}) == 2500);
  CHECK(squared_distance(flat, {{50, 30}, {50, 80}}) == 900);
  CHECK(squared_distance(flat, {{50, 30}, {50, -80}}) == 0);
  CHECK(squared_distance(flat, {{0, 10}, {100, 20}}) == 100);
  CHECK(nearest_point(flat, {50, 30}) == Point{50, 0});
  CHECK(nearest_point(flat, {-5, 3}) == Point{0, 0});
  CHECK(nearest_point({{0, 0}, {10, 10}}, {3, 0}) == Point{2, 2});  // 1.5, half away from zero
}

TEST_CASE("the nearest leg equals brute force, ties to the first, on 2,000 points") {
  std::vector<Segment> legs = random_segments(3000, 5);
  for (size_t i = 0; i < 200; ++i) legs.push_back(legs[i]);                     // copies
  for (size_t i = 0; i < 200; ++i) legs.push_back({legs[i].b, legs[i].a});      // and reversed ones
  for (size_t i = 0; i < 200; ++i) legs.push_back({legs[i].a, legs[i + 1].a});  // fans at shared vertices
  const SegmentIndex index(legs);
  size_t different = 0;
  for (Point p : random_points(2000, 6)) {
    NearestSegment best;
    for (uint32_t i = 0; i < legs.size(); ++i) {
      const double square = squared_distance(legs[i], {p, p});
      if (i == 0 || square < best.square) best = {i, square};
    }
    const auto hit = index.nearest(p);
    REQUIRE(hit);
    different += hit->segment != best.segment || hit->square != best.square;
  }
  CHECK(different == 0);
}

TEST_CASE("the nearest distance equals that of Boost's R-tree on 2,000 points") {
  namespace bg = boost::geometry;
  using BoostPoint = bg::model::d2::point_xy<double>;
  using BoostSegment = bg::model::segment<BoostPoint>;
  const std::vector<Segment> legs = random_segments(3000, 8);
  std::vector<BoostSegment> lines;
  const auto point = [](Point p) { return BoostPoint(static_cast<double>(p.x), static_cast<double>(p.y)); };
  for (const Segment& s : legs) lines.emplace_back(point(s.a), point(s.b));
  const bg::index::rtree<BoostSegment, bg::index::rstar<16>> tree(lines.begin(), lines.end());
  const SegmentIndex index(legs);
  for (Point p : random_points(2000, 9)) {
    std::vector<BoostSegment> found;
    tree.query(bg::index::nearest(point(p), 1), std::back_inserter(found));
    CHECK(std::sqrt(index.nearest(p)->square) ==
          doctest::Approx(bg::distance(point(p), found.at(0))).epsilon(1e-9));
  }
}

TEST_CASE("the gap between a leg and many equals brute force") {
  const std::vector<Segment> legs = random_segments(500, 12), queries = random_segments(300, 13);
  const SegmentIndex index(legs);
  size_t crossing = 0;
  for (const Segment& q : queries) {
    double best = squared_distance(legs[0], q);
    for (const Segment& s : legs) best = std::min(best, squared_distance(s, q));
    crossing += best == 0;
    CHECK(*index.gap(q) == whole_millimetres(std::llround(std::sqrt(best))));
  }
  CHECK(crossing > 0);
  CHECK(!SegmentIndex(std::span<const Segment>{}).nearest({0, 0}));
}
