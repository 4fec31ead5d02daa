// Sides and crossings on real maps, against what the centre-lines alone say. Maps: OpenStreetMap extracts
// (ODbL) and municipal open data, read in place.
#include <doctest/doctest.h>

#include <cmath>
#include <set>
#include <string>

#include "base/point.h"
#include "estate/streets.h"
#include "reference/real_maps.h"

using namespace withy;
using namespace withy::reference;

namespace {

double metres(const std::vector<DraftRoute>& routes, const char* word) {
  double sum = 0;
  for (const DraftRoute& r : routes)
    if (r.name.find(word) != std::string::npos) sum += plan::in_metres(plan::polyline_length(r.line));
  return sum;
}

double metres_of_streets(const std::vector<DraftRoute>& routes, const SideRules& rules) {
  double sum = 0;
  for (const DraftRoute& r : routes)
    if (!r.bridge && !r.tunnel && r.crossing.empty() &&
        rules.half_width[static_cast<size_t>(r.street_class)] > 0)
      sum += plan::in_metres(plan::polyline_length(r.line));
  return sum;
}

void compare(const Map& map) {
  const Plane plane = plane_of(map);
  StreetRules rules;
  const Draft lines = make_streets(map, plane, rules);
  rules.model = StreetModel::both_sides;
  const Draft sides = make_streets(map, plane, rules);
  CHECK(street_counts(sides.routes).components == street_counts(lines.routes).components);

  std::set<std::string> names;
  for (const DraftRoute& r : sides.routes) {
    CHECK_MESSAGE(names.insert(r.name).second, r.name);
    REQUIRE(r.line.size() > 1);
    for (size_t i = 1; i < r.line.size(); ++i) CHECK(r.line[i] != r.line[i - 1]);
  }
  // Corners and bends take off one side what they add to the other, junctions their own width.
  const double centre = metres_of_streets(lines.routes, rules.sides);
  for (const char* side : {" left ", " right "}) {
    CHECK(metres(sides.routes, side) < 1.01 * centre);
    CHECK(metres(sides.routes, side) > 0.85 * centre);
  }
}

}  // namespace

TEST_CASE("both sides of real streets are connected as their centre-lines are, and about as long") {
  for (const char* file : {"faurndau.osm.gz", "lauf-200115.osm.pbf", "neubrandenburg.osm.bz2"}) {
    CAPTURE(file);
    Map map;
    if (read_map(file, map)) compare(map);
  }
  Map town;
  if (read_rows("contagem_via.geojsonl.gz", "contagem_geoaddress.geojsonl.gz", {}, town)) compare(town);
}
