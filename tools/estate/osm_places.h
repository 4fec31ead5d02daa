// Where the nodes of an OpenStreetMap file stand: a table sorted by node number, filled in any order.
// 16 bytes a node; numbers exceed 32 bits. Coordinates are whole ten-millionths of a degree, the
// resolution of the format, so that equal places are equal numbers.
//
//   places.add({7130313737, 112700000, 495100000});
//   places.settle();
//   if (const OsmNode* node = places.find(7130313737)) ...
#pragma once
#include <cstdint>
#include <vector>

#include "estate/map.h"

namespace withy {

struct OsmNode {
  int64_t id = 0;
  int32_t x = 0, y = 0;  // longitude, latitude
  friend bool operator==(const OsmNode&, const OsmNode&) = default;
};
using OsmLine = std::vector<OsmNode>;

inline bool same_place(const OsmNode& a, const OsmNode& b) {
  return a.x == b.x && a.y == b.y;
}
MapPlace place_of(const OsmNode& node);
MapPath path_of(const OsmLine& line);
// On the sphere of the earth's mean radius, 6,371,008.8 m (IUGG 1980): within 0.6 % of the ellipsoid.
double metres_between(const OsmNode& a, const OsmNode& b);

class OsmPlaces {
 public:
  void add(OsmNode node) { nodes_.push_back(node); }
  // Sorts; of nodes with one number the one added last stays. Gives those that came more than once, as
  // they stay.
  std::vector<OsmNode> settle();
  // After settle(): nothing where the file holds no such node.
  const OsmNode* find(int64_t id) const;

 private:
  std::vector<OsmNode> nodes_;
};

}  // namespace withy
