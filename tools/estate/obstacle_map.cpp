#include "estate/obstacle_map.h"

#include <algorithm>
#include <array>
#include <tuple>

#include "estate/plane_vector.h"

namespace withy {
namespace {

Box leg_box(plan::Point a, plan::Point b) {
  return box_of(std::array{a, b});
}

bool is_area(const DraftBarrier& b) {
  return b.kind == BarrierKind::water && b.line.size() > 3 && b.line.front() == b.line.back();
}

auto order_of(const DraftBarrier& b) {
  return std::tuple(b.level, b.kind, is_area(b), b.id.source, b.id.kind, b.id.number);
}

// The part of leg a-b, as shares of it, that leg c-d touches; from > to where none.
struct Touch {
  double from = 1, to = 0;
};
Touch touch_of(plan::Point a, plan::Point b, plan::Point c, plan::Point d) {
  const Vector r = vector_of(a, b), s = vector_of(c, d), q = vector_of(a, c);
  const double turn = cross(r, s);
  if (turn != 0) {
    const double t = cross(q, s) / turn, u = cross(q, r) / turn;
    return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? Touch{t, t} : Touch{};
  }
  if (cross(q, r) != 0) return {};
  const double square = dot(r, r), t = dot(q, r) / square, u = dot(vector_of(a, d), r) / square;
  return {std::max(0.0, std::min(t, u)), std::min(1.0, std::max(t, u))};
}

constexpr double same_place = 1;  // mm

void join(std::vector<Contact>& contacts) {
  std::sort(contacts.begin(), contacts.end(), [](const Contact& a, const Contact& b) {
    return std::tie(a.obstacle, a.from, a.to) < std::tie(b.obstacle, b.from, b.to);
  });
  size_t kept = 0;
  for (const Contact& c : contacts) {
    if (kept > 0 && contacts[kept - 1].obstacle == c.obstacle && c.from <= contacts[kept - 1].to + same_place)
      contacts[kept - 1].to = std::max(contacts[kept - 1].to, c.to);
    else
      contacts[kept++] = c;
  }
  contacts.resize(kept);
}

}  // namespace

ObstacleMap::ObstacleMap(const std::vector<DraftBarrier>& barriers) {
  std::vector<const DraftBarrier*> order;
  for (const DraftBarrier& b : barriers)
    if (!b.bridge && !b.tunnel && b.line.size() > 1) order.push_back(&b);
  std::sort(order.begin(), order.end(), [](const DraftBarrier* a, const DraftBarrier* b) {
    const auto x = order_of(*a), y = order_of(*b);
    return std::tie(x, a->line) < std::tie(y, b->line);
  });
  const DraftBarrier* before = nullptr;
  for (const DraftBarrier* b : order) {
    add(*b, before && order_of(*before) == order_of(*b));
    before = b;
  }
  std::sort(ends_.begin(), ends_.end());
  std::vector<Box> boxes;
  for (const Leg& l : legs_) boxes.push_back(leg_box(l.a, l.b));
  leg_index_ = BoxIndex(boxes);
  boxes.clear();
  for (uint32_t i = 0; i < obstacles_.size(); ++i)
    if (obstacles_[i].area) {
      areas_.push_back(i);
      boxes.push_back(obstacles_[i].box);
    }
  area_index_ = BoxIndex(boxes);
}

void ObstacleMap::add(const DraftBarrier& b, bool joins) {
  if (!joins) obstacles_.push_back({b.id, b.kind, b.level, is_area(b), box_of(b.line)});
  Box& box = obstacles_.back().box;
  const Box own = box_of(b.line);
  box = box_of(std::array{box.low, box.high, own.low, own.high});
  const auto obstacle = static_cast<uint32_t>(obstacles_.size() - 1);
  if (!is_area(b))
    for (const plan::Point end : {b.line.front(), b.line.back()}) ends_.emplace_back(end, b.level);
  for (size_t i = 1; i < b.line.size(); ++i)
    if (b.line[i - 1] != b.line[i]) legs_.push_back({b.line[i - 1], b.line[i], obstacle});
}

void ObstacleMap::touch(const DraftRoute& route, const Stations& stations, size_t leg,
                        std::vector<Contact>& found) const {
  const plan::Point a = route.line[leg], b = route.line[leg + 1];
  if (a == b) return;
  const double length = stations[leg + 1] - stations[leg];
  leg_index_.each_meeting(leg_box(a, b), [&](uint32_t i) {
    const Leg& l = legs_[i];
    if (obstacles_[l.obstacle].level != route.level) return true;
    const Touch t = touch_of(a, b, l.a, l.b);
    if (t.from <= t.to)
      found.push_back({l.obstacle, stations[leg] + t.from * length, stations[leg] + t.to * length});
    return true;
  });
}

std::vector<Contact> ObstacleMap::contacts(const DraftRoute& route, const Stations& stations) const {
  std::vector<Contact> found;
  if (route.line.empty()) return found;
  for (size_t i = 0; i + 1 < route.line.size(); ++i) touch(route, stations, i, found);
  const plan::Point start = route.line[0];
  area_index_.each_meeting({start, start}, [&](uint32_t i) {
    if (obstacles_[areas_[i]].level == route.level && inside(areas_[i], start))
      found.push_back({areas_[i], 0, 0});
    return true;
  });
  join(found);
  return found;
}

bool ObstacleMap::dead_end(uint32_t obstacle, plan::Point p) const {
  const std::pair end(p, obstacles_[obstacle].level);
  const auto first = std::lower_bound(ends_.begin(), ends_.end(), end);
  return first != ends_.end() && *first == end &&
         (std::next(first) == ends_.end() || *std::next(first) != end);
}

bool ObstacleMap::inside(uint32_t area, plan::Point p) const {
  bool odd = false;
  const Box ray{p, {std::max(p.x, obstacles_[area].box.high.x), p.y}};
  leg_index_.each_meeting(ray, [&](uint32_t i) {
    const Leg& l = legs_[i];
    if (l.obstacle != area || (l.a.y > p.y) == (l.b.y > p.y)) return true;
    const double side = cross(vector_of(l.a, l.b), vector_of(l.a, p));
    odd ^= (l.b.y > l.a.y) == (side > 0);
    return true;
  });
  return odd;
}

}  // namespace withy
