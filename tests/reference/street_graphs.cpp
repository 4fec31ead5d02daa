// The street graphs of real maps against counts that two independent converters agreed on (derived): nodes,
// edges, components, self-loops, surplus parallel edges, kilometres.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "estate/components.h"
#include "estate/premises.h"
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

// Loose ends that are joined to a line without being moved.
uint64_t ends_on_a_line(const Map& map) {
  StreetRules rules;
  rules.noding.touch = 0;  // else they are joined as vertices that touch it
  const Draft draft = make_streets(map, plane_of(map), rules);
  return static_cast<uint64_t>(
      std::count_if(draft.remarks.begin(), draft.remarks.end(), [](const MapRemark& r) {
        return r.what == "loose end moved to the next street" && r.detail.starts_with("by 0 mm");
      }));
}

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

// Ties in moving loose ends leave room: half a per cent. The other converter leaves an end alone that lies on
// a line already, and so keeps what hangs on it apart: each such end may account for one component.
TEST_CASE("street graphs of municipal lines, noded") {
  struct City {
    const char *lines, *points;
    double nodes, edges, components, kilometres;
    double loops, parallel;  // 0: not compared, the other converter folds more of them
  };
  const City cities[] = {
      {"contagem_via.geojsonl.gz", "contagem_geoaddress.geojsonl.gz", 10887, 16036, 9, 1833.6, 22, 57},
      {"belohorizonte_via.geojsonl.gz", "belohorizonte_geoaddress.geojsonl.gz", 34680, 50448, 599, 4687.0, 0,
       0}};
  const auto near = [](uint64_t found, double wanted) {
    return std::abs(static_cast<double>(found) - wanted) <= wanted * 0.005;
  };
  for (const City& c : cities) {
    CAPTURE(c.lines);
    Map map;
    if (!reference::read_rows(c.lines, c.points, {}, map)) continue;
    const StreetCounts found = street_counts(make_streets(map, plane_of(map), {}).routes);
    CHECK(near(found.nodes, c.nodes));
    CHECK(near(found.edges, c.edges));
    const uint64_t on_a_line = ends_on_a_line(map);
    CHECK(static_cast<double>(found.components) <= c.components * 1.005);
    CHECK(static_cast<double>(found.components + on_a_line) >= c.components * 0.995);
    CHECK(found.metres / 1000 == doctest::Approx(c.kilometres).epsilon(0.005));
    if (c.loops > 0) CHECK(near(found.loops, c.loops));
    if (c.parallel > 0) CHECK(near(found.parallel, c.parallel));
    MESSAGE(found.nodes << " nodes, " << found.edges << " edges, " << found.components << " components, "
                        << found.loops << " loops, " << found.parallel << " parallel, " << found.metres / 1000
                        << " km, " << on_a_line << " ends on a line");
  }
}

// Counted on the same file by another converter (derived).
TEST_CASE("restricted ways, bridges, tunnels and stated surfaces of a town") {
  Map map;
  if (!reference::read_map("lauf-200115.osm.pbf", map)) return;
  std::erase_if(map.streets, [](const MapStreet& street) { return street.area; });
  map.barriers.clear();
  const Draft draft = make_streets(map, plane_of(map), {});
  const StreetCounts c = street_counts(draft.routes);
  CHECK(c.bridges == 60);
  CHECK(c.tunnels == 46);
  double restricted = 0, stated = 0;
  for (const DraftRoute& r : draft.routes) {
    const double metres = plan::in_metres(plan::polyline_length(r.line));
    if (r.restricted) restricted += metres;
    if (r.surface_known == Known::mapped) stated += metres;
  }
  CHECK(std::abs(restricted / 1000 - 6.87) < 0.01);
  CHECK(std::abs(100 * stated / c.metres - 41.4) < 0.1);
}

// 306 premises stand across the river, joined by footways only (derived: counted by another converter, from
// the centres of the buildings).
TEST_CASE("premises cut off where roads alone are streets") {
  Map map;
  if (!reference::read_map("faurndau.osm.gz", map)) return;
  std::erase_if(map.streets, [](const MapStreet& street) { return street.area; });
  map.barriers.clear();
  StreetRules rules;
  rules.roads_only = true;
  const Plane plane = plane_of(map);
  Draft draft = make_streets(map, plane, rules);
  draft.premises = make_premises(map, plane, draft.routes, {}).premises;
  for (DraftPremises& p : draft.premises) p.at = p.centre, p.drop_from.reset();
  const Components found = components_of(draft);
  CHECK(found.all.size() == 5);
  CHECK(draft.premises.size() == 1269);
  CHECK(static_cast<int64_t>(draft.premises.size()) - found.all[0].premises == 306);
}

TEST_CASE("any order of a real map gives the same lines") {
  const char* maps[] = {"faurndau.osm.gz",
                        "lauf-200115.osm.pbf",
                        "lauf-cut-m.osm.pbf",
                        "neubrandenburg-cut-s.osm.pbf",
                        "neubrandenburg-cut-m.osm.pbf",
                        "neubrandenburg-cut-l.osm.pbf",
                        "neubrandenburg.osm.bz2",
                        "contagem_via.geojsonl.gz",
                        "belohorizonte_via.geojsonl.gz"};
  const auto lines_of = [](const Draft& draft) {
    std::vector<std::vector<plan::Point>> lines;
    for (const DraftRoute& r : draft.routes) lines.push_back(r.line);
    std::sort(lines.begin(), lines.end());
    return lines;
  };
  std::mt19937 draw(1);
  for (const char* name : maps) {
    const std::string file = name;
    CAPTURE(file);
    Map map;
    const bool rows = file.find(".geojsonl") != std::string::npos;
    if (!(rows ? reference::read_rows(file, "contagem_geoaddress.geojsonl.gz", {}, map)
               : reference::read_map(file, map)))
      continue;
    map.addresses.clear();
    StreetRules rules;
    const Plane plane = plane_of(map);
    const Draft centre = make_streets(map, plane, rules);
    rules.model = StreetModel::both_sides;
    const Draft sides = make_streets(map, plane, rules);
    std::shuffle(map.streets.begin(), map.streets.end(), draw);
    std::shuffle(map.barriers.begin(), map.barriers.end(), draw);
    CHECK(lines_of(make_streets(map, plane, rules)) == lines_of(sides));
    rules.model = StreetModel::centre_line;
    CHECK(lines_of(make_streets(map, plane, rules)) == lines_of(centre));
  }
}
