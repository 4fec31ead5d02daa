// Barriers asked by place: where a line touches them, and whether a place lies in an area of water.
// Private to barriers.cpp.
#pragma once
#include <cstdint>
#include <utility>
#include <vector>

#include "estate/box_index.h"
#include "estate/draft.h"
#include "estate/route_line.h"

namespace withy {

// The lines of one barrier, or the outlines of one area of water.
struct MapObstacle {
  MapId id;
  BarrierKind kind = BarrierKind::rail;
  int level = 0;
  bool area = false;
  Box box;
};

// The line of a route and an obstacle touch from `from` to `to`, mm from the start of the route.
struct Contact {
  uint32_t obstacle = 0;
  double from = 0, to = 0;
};

class ObstacleMap {
 public:
  // Bridges, tunnels and barriers without extent are left out. Obstacles stand in an order of their own.
  explicit ObstacleMap(const std::vector<DraftBarrier>& barriers);
  const MapObstacle& operator[](uint32_t i) const { return obstacles_[i]; }
  // By obstacle, then place; contacts of one obstacle at one place are one. Areas that hold the start of the
  // line without touching it come as contacts at 0.
  std::vector<Contact> contacts(const DraftRoute& route, const Stations& stations) const;
  bool inside(uint32_t area, plan::Point p) const;
  // A line ends here and none of its level goes on.
  bool dead_end(uint32_t obstacle, plan::Point p) const;

 private:
  struct Leg {
    plan::Point a, b;
    uint32_t obstacle;
  };
  void add(const DraftBarrier& barrier, bool joins);
  void touch(const DraftRoute& route, const Stations& stations, size_t leg,
             std::vector<Contact>& found) const;

  std::vector<MapObstacle> obstacles_;
  std::vector<Leg> legs_;
  BoxIndex leg_index_, area_index_;
  std::vector<uint32_t> areas_;
  std::vector<std::pair<plan::Point, int>> ends_;  // of lines, with their level; sorted
};

}  // namespace withy
