// The plane in which an estate is drafted: metres of the UTM zone (WGS 84, EPSG 326zz north, 327zz south)
// of the data's median place, so that coordinates agree with other maps; or a source's own metres.
//
//   const Plane plane = plane_of(map);
//   plane.forward(place)          // whole millimetres
//   plane.name()                  // "EPSG:32632"; empty for a source's own metres
//
// Scale: a length on the grid is 0.9996 of the true one at the zone's central meridian and longer away
// from it, 1.0003 at the edge of a zone; `scale` tells. Lengths are not corrected for it: at most 4 parts
// in 10,000, less than the slack of a cable. Source of the projection: libplan/scenario/projection.h; the
// zones of UTM are those of EPSG method 9824 without the exceptions of Norway and Svalbard.
#pragma once
#include <string>

#include "base/point.h"
#include "estate/map.h"
#include "scenario/projection.h"

namespace withy {

class Plane {
 public:
  Plane();  // a source's own metres
  Plane(int zone, bool south);
  bool geographic() const { return zone_ > 0; }
  std::string name() const;
  // On the globe, or within a million kilometres of the origin of a source's own metres; a number.
  bool can_place(MapPlace place) const;
  plan::Point forward(MapPlace place) const;  // of what can be placed
  MapPlace inverse(plan::Point point) const;
  // Grid length over true length near the place; 1 for a source's own metres.
  double scale(MapPlace place) const;

 private:
  int zone_ = 0;
  bool south_ = false;
  plan::Projection projection_;
};

// Of the median longitude and latitude of every place of the map that is on the globe.
Plane plane_of(const Map& map);

}  // namespace withy
