#include "estate/drops.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace withy {
namespace {

using plan::Point;

constexpr int most_turns = 8;       // of settling: each shortens the drop
constexpr size_t most_routes = 16;  // tried round an obstacle
constexpr size_t most_walls = 32;

int64_t straight(Point a, Point b) {
  return plan::to_whole_millimetres(plan::distance(a, b));
}

// Corners and middles of the walls, every nth where they are many.
std::vector<Point> wall_samples(const Areas& buildings, uint32_t building) {
  std::vector<Point> all;
  for (size_t r = 0; r < buildings.rings(building); ++r) {
    if (!buildings.outer(building, r)) continue;
    const std::span<const Point> ring = buildings.ring(building, r);
    for (size_t i = 0; i + 1 < ring.size(); ++i) {
      const Point a = ring[i], b = ring[i + 1];
      all.push_back(a);
      all.push_back({a.x + (b.x - a.x) / 2, a.y + (b.y - a.y) / 2});
    }
  }
  const size_t step = (all.size() + most_walls - 1) / most_walls;
  std::vector<Point> out;
  for (size_t i = 0; i < all.size(); i += step) out.push_back(all[i]);
  return out;
}

}  // namespace

Leave DropMaker::seek(const DropAsk& ask, bool own, Point p, const std::optional<Leave>& known) const {
  return own ? *streets_.nearest_of(ask.street, p) : *streets_.nearest(p, known);
}

// By turns the wall nearest to the street and the street nearest to that wall, until neither moves.
DropMaker::Way DropMaker::settle(const DropAsk& ask, Leave from, bool own) const {
  if (ask.own.building == Own::none) return {from, ask.centre, own};
  Point entry = ask.centre;
  for (int turn = 0; turn < most_turns; ++turn) {
    entry = wall_point(buildings_, ask.own.building, from.at);
    const Point before = from.at;
    from.length = straight(before, entry);
    from = seek(ask, own, entry, from);
    if (from.at == before) break;
  }
  return {from, entry, own};
}

std::optional<Obstacle> DropMaker::obstacle(const DropAsk& ask, const Way& way) const {
  return obstacles_.first(way.from.at, way.entry, ask.own, plan::to_whole_millimetres(rules_.inside_another));
}

// From other wall points to the same street, and from other routes; own street first, then the shortest.
std::vector<DropMaker::Way> DropMaker::others(const DropAsk& ask, bool own, int64_t reach) const {
  std::vector<Way> ways;
  const bool has_building = ask.own.building != Own::none;
  if (has_building)
    for (const Point wall : wall_samples(buildings_, ask.own.building))
      ways.push_back({seek(ask, own, wall, {}), wall, own});
  std::vector<Leave> routes;
  streets_.within(ask.centre, reach, routes);
  if (routes.size() > most_routes) routes.resize(most_routes);
  for (Leave from : routes) {
    const Point entry = has_building ? wall_point(buildings_, ask.own.building, from.at) : ask.centre;
    from.length = straight(from.at, entry);
    ways.push_back(
        {from, entry, ask.street != StreetNames::none && streets_.name_of(from.route) == ask.street});
  }
  const auto key = [&](const Way& w) {
    return std::tuple(!w.own, w.from.length, straight(w.entry, ask.centre), w.from.route, w.entry);
  };
  std::sort(ways.begin(), ways.end(), [&](const Way& a, const Way& b) { return key(a) < key(b); });
  return ways;
}

std::optional<Drop> DropMaker::make(const DropAsk& ask) const {
  std::optional<Leave> street;
  if (ask.street != StreetNames::none) street = streets_.nearest_of(ask.street, ask.centre);
  const std::optional<Leave> nearest = streets_.nearest(ask.centre, street);
  if (!nearest) return std::nullopt;
  const int64_t reach = std::llround(rules_.own_street_factor * static_cast<double>(nearest->length));
  const bool own = street && street->length <= reach;
  Drop drop;
  drop.nearest = *nearest;
  drop.own_street = own && streets_.name_of(nearest->route) != ask.street;
  Way way = settle(ask, own ? *street : *nearest, own);
  drop.obstacle = obstacle(ask, way);
  if (drop.obstacle)
    for (const Way& other : others(ask, own, reach)) {
      if (other.from.length > reach || obstacle(ask, other)) continue;
      way = other;
      drop.obstacle.reset();
      drop.moved = true;
      break;
    }
  drop.from = way.from;
  drop.entry = way.entry;
  const bool surely_nearest = !drop.moved && !drop.own_street && way.entry == ask.centre;
  if (!surely_nearest && streets_.nearest(way.entry, way.from)->at != way.from.at)
    drop.drop_from = way.from.at;
  return drop;
}

}  // namespace withy
