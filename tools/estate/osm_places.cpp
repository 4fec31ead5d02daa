#include "estate/osm_places.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace withy {
namespace {

constexpr double steps_a_degree = 1e7;
constexpr double earth_radius_metres = 6'371'008.8;

bool lower_id(const OsmNode& a, const OsmNode& b) {
  return a.id < b.id;
}

}  // namespace

MapPlace place_of(const OsmNode& node) {
  return {node.x / steps_a_degree, node.y / steps_a_degree};
}

MapPath path_of(const OsmLine& line) {
  MapPath path;
  path.reserve(line.size());
  for (const OsmNode& node : line) path.push_back(place_of(node));
  return path;
}

double metres_between(const OsmNode& a, const OsmNode& b) {
  constexpr double radians = std::numbers::pi / 180 / steps_a_degree;
  const double north = (static_cast<double>(b.y) - a.y) * radians / 2;
  const double east = (static_cast<double>(b.x) - a.x) * radians / 2;
  const double haversine = std::sin(north) * std::sin(north) + std::cos(a.y * radians) *
                                                                   std::cos(b.y * radians) * std::sin(east) *
                                                                   std::sin(east);
  return 2 * earth_radius_metres * std::asin(std::sqrt(std::min(1.0, haversine)));
}

std::vector<OsmNode> OsmPlaces::settle() {
  if (!std::is_sorted(nodes_.begin(), nodes_.end(), lower_id))
    std::stable_sort(nodes_.begin(), nodes_.end(), lower_id);
  std::vector<OsmNode> repeated;
  size_t kept = 0;
  for (size_t i = 0, end = 0; i < nodes_.size(); i = end) {
    for (end = i; end < nodes_.size() && nodes_[end].id == nodes_[i].id;) ++end;
    if (end - i > 1) repeated.push_back(nodes_[end - 1]);
    nodes_[kept++] = nodes_[end - 1];
  }
  nodes_.resize(kept);
  return repeated;
}

const OsmNode* OsmPlaces::find(int64_t id) const {
  const auto found = std::lower_bound(nodes_.begin(), nodes_.end(), OsmNode{id, 0, 0}, lower_id);
  return found != nodes_.end() && found->id == id ? &*found : nullptr;
}

}  // namespace withy
