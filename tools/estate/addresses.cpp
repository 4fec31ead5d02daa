#include "estate/addresses.h"

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

#include "base/parallel.h"

namespace withy {
namespace {

using plan::Point;

constexpr int64_t position_grid = 100;  // mm

int64_t rounded_to_grid(int64_t v) {
  return (v >= 0 ? v + position_grid / 2 : v - position_grid / 2) / position_grid;
}

struct Placed {
  int64_t x, y;  // in steps of the grid
  uint32_t address;
};

void settle_spots(const Map& map, const Plane& plane, const plan::Run& run, Addresses& out) {
  std::vector<Point> points(map.addresses.size());
  std::vector<Placed> placed(map.addresses.size());
  plan::for_each_chunk(run, points.size(), 4096, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i) {
      points[i] = plane.forward(map.addresses[i].at);
      placed[i] = {rounded_to_grid(points[i].x), rounded_to_grid(points[i].y), static_cast<uint32_t>(i)};
    }
  });
  std::sort(placed.begin(), placed.end(), [](const Placed& a, const Placed& b) {
    return std::tie(a.x, a.y, a.address) < std::tie(b.x, b.y, b.address);
  });
  out.order.reserve(placed.size()), out.spots.reserve(placed.size());
  for (size_t i = 0; i < placed.size(); ++i) {
    out.order.push_back(placed[i].address);
    if (i > 0 && placed[i].x == placed[i - 1].x && placed[i].y == placed[i - 1].y)
      ++out.spots.back().count;
    else
      out.spots.push_back({points[placed[i].address], Spot::none, static_cast<uint32_t>(i), 1});
  }
}

uint32_t building_at(const Areas& buildings, const BoxIndex& boxes, Point p, int64_t reach) {
  std::vector<uint32_t> found;
  boxes.meeting(grown({p, p}, reach), found);
  uint32_t best = Spot::none;
  double least = static_cast<double>(reach) * static_cast<double>(reach);
  for (const uint32_t i : found) {
    const double square = square_to(buildings, i, p);
    if (square < least || (square == least && best == Spot::none)) least = square, best = i;
  }
  return best;
}

}  // namespace

Addresses addresses_of(const Map& map, const Plane& plane, const Areas& buildings,
                       const std::vector<bool>& left_out, plan::Length reach, const plan::Run& run) {
  Addresses out;
  settle_spots(map, plane, run, out);
  if (buildings.size() > 0) {
    std::vector<Box> boxes(buildings.size(), box_of(std::span<const Point>{}));
    for (size_t i = 0; i < boxes.size(); ++i)
      if (!left_out[i]) boxes[i] = box_of(buildings, i);
    const BoxIndex index(boxes);
    for (Spot& spot : out.spots)
      spot.building = building_at(buildings, index, spot.at, plan::to_whole_millimetres(reach));
  }
  std::sort(out.spots.begin(), out.spots.end(), [&](const Spot& a, const Spot& b) {
    return std::tie(a.building, out.order[a.first]) < std::tie(b.building, out.order[b.first]);
  });
  std::vector<uint32_t> order;
  order.reserve(out.order.size());
  for (Spot& spot : out.spots) {
    const std::span<const uint32_t> here = out.at(spot);
    spot.first = static_cast<uint32_t>(order.size());
    order.insert(order.end(), here.begin(), here.end());
  }
  out.order = std::move(order);
  return out;
}

}  // namespace withy
