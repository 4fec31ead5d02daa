// Real maps for checks, read in place, and their streets as routes without noding.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/point.h"
#include "estate/draft.h"
#include "estate/map.h"
#include "estate/plane.h"

namespace withy::reference {

// False, with a message "left out: …", where the file is not there.
bool read_map(const std::string& file, Map& map);
// Lines and points of one GeoJSON feature a row, gzipped: `via_name`; `address` as "street, number", or
// `house_number`. Only points inside the box and lines with a vertex inside are kept.
struct LonLatBox {
  double west = -180, south = -90, east = 180, north = 90;
};
bool read_rows(const std::string& lines, const std::string& points, LonLatBox box, Map& map);

// Every street but outlines of squares; nothing is dropped, noded or merged. Drops leave all but trunk
// roads, steps, bridges and tunnels. Without `soft` no footways, paths, cycleways, tracks, bridleways,
// steps.
std::vector<DraftRoute> plain_routes(const Map& map, const Plane& plane, bool soft = true);

}  // namespace withy::reference
