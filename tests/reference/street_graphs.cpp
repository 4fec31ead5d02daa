// The street graphs of real maps against counts that two independent converters agreed on (derived): nodes,
// edges, components, self-loops, surplus parallel edges, kilometres.
#include <doctest/doctest.h>

#include <cmath>

#include "estate/streets.h"
#include "reference/real_maps.h"

using namespace withy;

namespace {

struct Expected {
  const char* file;
  uint64_t nodes, edges, components, loops, parallel;
  double kilometres;
  bool roads_only = false;
};
constexpr Expected expected[] = {
    {"faurndau.osm.gz", 266, 335, 2, 0, 3, 25.6},
    {"faurndau.osm.gz", 184, 215, 5, 0, 3, 20.5, true},
    {"lauf-cut-m.osm.pbf", 736, 881, 4, 2, 2, 39.7},
    {"lauf-200115.osm.pbf", 3795, 4717, 9, 8, 22, 248.9},
    {"lauf-200115.osm.pbf", 2251, 2621, 6, 4, 26, 144.8, true},
    {"neubrandenburg-cut-s.osm.pbf", 83, 107, 2, 1, 0, 8.6},
    {"neubrandenburg-cut-m.osm.pbf", 374, 491, 2, 3, 3, 36.2},
    {"neubrandenburg-cut-l.osm.pbf", 7670, 9957, 20, 34, 76, 525.2},
    {"neubrandenburg.osm.bz2", 12542, 16360, 29, 76, 143, 1518.8},
    {"neubrandenburg.osm.bz2", 6088, 7350, 33, 83, 138, 760.0, true},
};

}  // namespace

TEST_CASE("street graphs of maps with shared vertices") {
  for (const Expected& e : expected) {
    const std::string file = e.file;
    CAPTURE(file);
    CAPTURE(e.roads_only);
    Map map;
    if (!reference::read_map(e.file, map)) continue;
    // The counts know neither squares nor what streets cross.
    std::erase_if(map.streets, [](const MapStreet& street) { return street.area; });
    map.barriers.clear();
    StreetRules rules;
    rules.roads_only = e.roads_only;
    const StreetCounts c = street_counts(make_streets(map, plane_of(map), rules).routes);
    CHECK(c.nodes == e.nodes);
    CHECK(c.edges == e.edges);
    CHECK(c.components == e.components);
    CHECK(c.loops == e.loops);
    CHECK(c.parallel == e.parallel);
    CHECK(std::abs(c.metres / 1000 - e.kilometres) < 0.06);  // printed with one decimal, of positions to 1 cm
  }
}

// Ties in moving loose ends leave room: half a per cent.
TEST_CASE("street graphs of municipal lines, noded") {
  struct City {
    const char *lines, *points;
    reference::LonLatBox box;
    double nodes, edges, components, kilometres;
  };
  const City cities[] = {
      {"contagem_via.geojsonl.gz", "contagem_geoaddress.geojsonl.gz", {}, 10887, 16036, 9, 1833.6},
      {"belohorizonte_via.geojsonl.gz",
       "belohorizonte_geoaddress.geojsonl.gz",
       {},
       34680,
       50448,
       599,
       4687.0}};
  for (const City& c : cities) {
    CAPTURE(c.lines);
    Map map;
    if (!reference::read_rows(c.lines, c.points, c.box, map)) continue;
    const StreetCounts found = street_counts(make_streets(map, plane_of(map), {}).routes);
    CHECK(static_cast<double>(found.nodes) == doctest::Approx(c.nodes).epsilon(0.005));
    CHECK(static_cast<double>(found.edges) == doctest::Approx(c.edges).epsilon(0.005));
    CHECK(static_cast<double>(found.components) == doctest::Approx(c.components).epsilon(0.005));
    CHECK(found.metres / 1000 == doctest::Approx(c.kilometres).epsilon(0.005));
    MESSAGE(found.nodes << " nodes, " << found.edges << " edges, " << found.components << " components, "
                        << found.loops << " loops, " << found.parallel << " parallel, " << found.metres / 1000
                        << " km");
  }
}
