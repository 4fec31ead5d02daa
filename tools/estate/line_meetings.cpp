#include "estate/line_meetings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <tuple>
#include <utility>

#include "estate/box_index.h"

namespace withy {
namespace {

using plan::Point;

double side(const LineLeg& leg, Point p) {
  return static_cast<double>(leg.b.x - leg.a.x) * static_cast<double>(p.y - leg.a.y) -
         static_cast<double>(leg.b.y - leg.a.y) * static_cast<double>(p.x - leg.a.x);
}

std::optional<Point> crossing(const LineLeg& s, const LineLeg& t, int64_t key) {
  const double a = side(t, s.a), b = side(t, s.b), c = side(s, t.a), d = side(s, t.b);
  if (a * b >= 0 || c * d >= 0) return {};
  const double share = a / (a - b);
  const auto between = [share](int64_t from, int64_t to) {
    return from + std::llround(share * static_cast<double>(to - from));
  };
  return Point{keyed(between(s.a.x, s.b.x), key), keyed(between(s.a.y, s.b.y), key)};
}

bool lies_on(const LineLeg& leg, Point p, int64_t reach) {
  if (p == leg.a || p == leg.b) return false;
  const Point foot = nearest_on(leg, p, 1);
  if (foot == leg.a || foot == leg.b) return false;
  return square_between(foot, p) <= static_cast<double>(reach) * static_cast<double>(reach);
}

std::vector<Box> boxes_of(const std::vector<LineLeg>& legs) {
  std::vector<Box> boxes;
  boxes.reserve(legs.size());
  for (const LineLeg& leg : legs) boxes.push_back(box_of(std::array{leg.a, leg.b}));
  return boxes;
}

class Search {
 public:
  Search(const std::vector<LineLeg>& legs, const MeetingRules& rules)
      : legs_(legs), rules_(rules), tries_left_((legs.size() + 1000) * rules.tries_a_leg) {}

  LegMeetings run() {
    const std::vector<Box> boxes = boxes_of(legs_);
    const BoxIndex index(boxes);
    for (uint32_t s = 0; s < legs_.size() && found_.complete; ++s)
      index.each_meeting(grown(boxes[s], rules_.touch), [&](uint32_t t) {
        if (t > s && legs_[s].level == legs_[t].level) compare(s, t);
        found_.complete = tries_left_ > 0 && found_.all.size() <= rules_.most_meetings;
        if (tries_left_ > 0) --tries_left_;
        return found_.complete;
      });
    std::sort(found_.all.begin(), found_.all.end(), [](const LegMeeting& a, const LegMeeting& b) {
      return std::tie(a.leg, a.other, a.touch, a.at) < std::tie(b.leg, b.other, b.touch, b.at);
    });
    return std::move(found_);
  }

 private:
  void compare(uint32_t s, uint32_t t) {
    if (const auto at = crossing(legs_[s], legs_[t], rules_.key)) found_.all.push_back({s, t, false, *at});
    if (rules_.touch <= 0) return;
    touch(s, t);
    touch(t, s);
  }
  void touch(uint32_t leg, uint32_t other) {
    for (const Point end : {legs_[other].a, legs_[other].b})
      if (lies_on(legs_[leg], end, rules_.touch)) found_.all.push_back({leg, other, true, end});
  }

  const std::vector<LineLeg>& legs_;
  const MeetingRules& rules_;
  uint64_t tries_left_;
  LegMeetings found_;
};

}  // namespace

int64_t keyed(int64_t v, int64_t key) {
  const int64_t down = v >= 0 ? v / key : -((-v + key - 1) / key);
  return (v - down * key) * 2 >= key ? (down + 1) * key : down * key;
}

double square_between(Point a, Point b) {
  const double dx = static_cast<double>(a.x - b.x), dy = static_cast<double>(a.y - b.y);
  return dx * dx + dy * dy;
}

Point nearest_on(const LineLeg& leg, Point p, int64_t key) {
  const double length = square_between(leg.a, leg.b);
  if (length == 0) return leg.a;
  const double along = static_cast<double>(p.x - leg.a.x) * static_cast<double>(leg.b.x - leg.a.x) +
                       static_cast<double>(p.y - leg.a.y) * static_cast<double>(leg.b.y - leg.a.y);
  const double share = std::clamp(along / length, 0.0, 1.0);
  return {keyed(leg.a.x + std::llround(share * static_cast<double>(leg.b.x - leg.a.x)), key),
          keyed(leg.a.y + std::llround(share * static_cast<double>(leg.b.y - leg.a.y)), key)};
}

LegMeetings leg_meetings(const std::vector<LineLeg>& legs, const MeetingRules& rules) {
  return Search(legs, rules).run();
}

}  // namespace withy
