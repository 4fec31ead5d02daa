// Measurements of real maps: how long from the sources to a checked plan, against a bare loop of the library
// that reads them, and how it grows with the map.
#pragma once
#include <string>
#include <vector>

#include "estate/estate.h"

namespace withy {

struct MapSources {
  std::vector<std::string> paths;
  std::string mapping;
  std::vector<std::string> elevation;
};

// Every stage of the estate and of its plan, each half a process of its own.
int map_stages(const MapSources& sources, int threads);

// GDAL reads all features of the sources and drops them; then the sources become a network: read, streets
// cleaned and noded, every premises hung on its street by its drop. Headends, report and folder are not in
// it. In turns, `rounds` of each; medians and their ratio.
int map_against_bare_loop(const MapSources& sources, int rounds);

// Shares of the map, strips from its west end, of about so many premises a rung, each first written as a
// file of streets and address points: seconds from that file to the estate's folder and on to the planner's
// network of it. Prints the exponent of the growth.
int map_growth(const MapSources& sources, const std::vector<int>& rungs);

// Slope of the least-squares line through (log x, log y). At least two points, all above 0.
double exponent(const std::vector<std::pair<double, double>>& points);

}  // namespace withy
