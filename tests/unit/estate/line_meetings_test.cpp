// Crossings and touches of legs, against trying every pair.
#include "estate/line_meetings.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <set>
#include <tuple>

using namespace withy;
using plan::Point;

namespace {

using Meeting = std::tuple<uint32_t, uint32_t, bool>;

int sign_of_side(Point a, Point b, Point p) {
  const auto wide = [](int64_t v) { return static_cast<long double>(v); };
  const long double area = wide(b.x - a.x) * wide(p.y - a.y) - wide(b.y - a.y) * wide(p.x - a.x);
  return area > 0 ? 1 : area < 0 ? -1 : 0;
}
bool cross(const LineLeg& s, const LineLeg& t) {
  return sign_of_side(s.a, s.b, t.a) * sign_of_side(s.a, s.b, t.b) < 0 &&
         sign_of_side(t.a, t.b, s.a) * sign_of_side(t.a, t.b, s.b) < 0;
}

std::set<Meeting> tried(const std::vector<LineLeg>& legs) {
  std::set<Meeting> all;
  for (uint32_t i = 0; i < legs.size(); ++i)
    for (uint32_t j = i + 1; j < legs.size(); ++j)
      if (legs[i].level == legs[j].level && cross(legs[i], legs[j])) all.insert({i, j, false});
  return all;
}

}  // namespace

TEST_CASE("the crossings found are those that trying every pair finds") {
  std::mt19937 draw(5);
  std::uniform_int_distribution<int64_t> coordinate(-200'000, 200'000), reach(-60'000, 60'000);
  std::uniform_int_distribution<int> level(0, 2);
  std::vector<LineLeg> legs;
  for (int i = 0; i < 900; ++i) {
    const int64_t x = coordinate(draw), y = coordinate(draw), dx = reach(draw), dy = reach(draw);
    legs.push_back({{x, y}, {x + dx, y + dy}, level(draw) == 0 ? 1 : 0});
  }
  legs.push_back({{-200'000'000'000, -200'000'000'000}, {200'000'000'000, 200'000'000'000}, 0});
  MeetingRules rules;
  rules.touch = 0;
  const LegMeetings found = leg_meetings(legs, rules);
  std::set<Meeting> all;
  for (const LegMeeting& m : found.all) all.insert({m.leg, m.other, m.touch});
  CHECK(found.complete);
  CHECK(all.size() == found.all.size());
  CHECK(all.size() > 1000);
  CHECK(all == tried(legs));
}

TEST_CASE("where legs meet") {
  const std::vector<LineLeg> legs{{{0, 0}, {100'000, 0}},
                                  {{50'000, -10'000}, {50'000, 20'000}},    // crosses
                                  {{30'000, 25}, {30'000, 40'000}},         // 25 mm short: touches
                                  {{70'000, 35}, {70'000, 40'000}},         // 35 mm short
                                  {{100'000, 0}, {150'000, 0}},             // shares an end
                                  {{20'000, -5'000}, {20'000, 5'000}, 1}};  // above
  const LegMeetings found = leg_meetings(legs, {});
  REQUIRE(found.all.size() == 2);
  CHECK(found.all[0].other == 1);
  CHECK_FALSE(found.all[0].touch);
  CHECK(found.all[0].at == Point{50'000, 0});
  CHECK(found.all[1].other == 2);
  CHECK(found.all[1].touch);
  CHECK(found.all[1].at == Point{30'000, 25});
}

TEST_CASE("keys round to the nearest, halves upwards") {
  CHECK(keyed(14, 10) == 10);
  CHECK(keyed(15, 10) == 20);
  CHECK(keyed(-14, 10) == -10);
  CHECK(keyed(-15, 10) == -10);
  CHECK(keyed(-16, 10) == -20);
}

TEST_CASE("a search that tries too much ends, and says so") {
  std::vector<LineLeg> legs(3000, {{0, 0}, {1000, 1000}});
  for (size_t i = 0; i < legs.size(); ++i) legs[i].b.x += static_cast<int64_t>(i);
  MeetingRules rules;
  rules.tries_a_leg = 10;
  CHECK_FALSE(leg_meetings(legs, rules).complete);
}
