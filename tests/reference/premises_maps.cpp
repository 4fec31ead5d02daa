// Premises of real maps: open extracts of OpenStreetMap (ODbL 1.0, © OpenStreetMap contributors) and open
// data of two municipalities of Brazil (CC0 1.0). Expected counts and sums are derived: counted on the same
// files by a converter of its own, coordinates to 0.01 m. Drops are measured from the centroid or point to
// the nearest street of any name.
#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <string>
#include <vector>

#include "base/text.h"
#include "estate/drop_streets.h"
#include "estate/obstacles.h"
#include "estate/premises.h"
#include "estate/sites.h"
#include "estate/streets.h"
#include "reference/real_maps.h"
#include "unit/estate/premises_brute.h"

using namespace withy;
using namespace withy::reference;

namespace {

struct Sum {
  double metres = 0;
  int above_100 = 0;
};
Sum centre_drops(const MadePremises& made, const std::vector<DraftRoute>& routes) {
  const DropStreets streets(routes);
  Sum sum;
  for (const DraftPremises& p : made.premises) {
    const double metres = static_cast<double>(streets.nearest(p.centre)->length) / 1000;
    sum.metres += metres;
    sum.above_100 += metres > 100;
  }
  return sum;
}

// How far the walls of each building reach from its centre, by id.
double reach_of(const Map& map, const Plane& plane, const DraftPremises& p) {
  double most = 0;
  for (const MapBuilding& b : map.buildings)
    if (b.id == p.id)
      for (const MapPart& part : b.parts)
        for (const MapPath& ring : part.rings)
          for (const MapPlace& place : ring) {
            const plan::Point at = plane.forward(place);
            most = std::max(most, std::hypot(static_cast<double>(at.x - p.centre.x),
                                             static_cast<double>(at.y - p.centre.y)));
          }
  return most;
}

// 400 premises spread over the map against the brute-force check; with nothing in the way, so that the
// check need not know what a drop goes round.
void check_400(Map map, const Plane& plane, const std::vector<DraftRoute>& routes) {
  map.barriers.clear();
  PremisesRules rules;
  rules.inside_another = plan::metres(1e6);
  const MadePremises made = make_premises(map, plane, routes, rules);
  const size_t n = made.premises.size();
  for (size_t i = 0; i < std::min<size_t>(n, 400); ++i) {
    const DraftPremises& p = made.premises[i * n / std::min<size_t>(n, 400)];
    INFO(p.name);
    CHECK(brute::fault_of(p, routes, rules, reach_of(map, plane, p)) == "");
  }
}

// Every drop as made ends on a route, whatever it goes round.
void check_feet(const MadePremises& made, const std::vector<DraftRoute>& routes) {
  const DropStreets streets(routes);
  for (const DraftPremises& p : made.premises) {
    if (p.drop_from && streets.nearest(*p.drop_from)->length > 1) {
      FAIL_CHECK(p.name, ": the drop leaves no street");
      continue;
    }
    const plan::Point from = streets.nearest(p.drop_from.value_or(p.at))->at;
    const double length =
        std::hypot(static_cast<double>(p.at.x - from.x), static_cast<double>(p.at.y - from.y));
    if (static_cast<double>(p.boundary) > length + 1) FAIL_CHECK(p.name, ": boundary beyond the drop");
  }
}

// The nearest street has a name, and another one when only case and outer blanks are ignored.
uint64_t other_by_case(const MadePremises& made, const std::vector<DraftRoute>& routes) {
  const auto small = [](std::string_view text) {
    std::string out(plan::trimmed(text));
    for (char& c : out)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c | 32);
    return out;
  };
  const DropStreets streets(routes);
  uint64_t other = 0;
  for (const DraftPremises& p : made.premises) {
    const std::string nearest = small(routes[streets.nearest(p.centre)->route].street);
    other += !p.street.empty() && !nearest.empty() && nearest != small(p.street);
  }
  return other;
}

struct Town {
  const char* file;
  size_t premises;
  uint64_t addresses;
  double drops;             // m
  uint64_t other, unnamed;  // nearest street of another name, of none
  uint64_t through;         // straight drops from the centre through another building
};

uint64_t straight_through(const Map& map, const Plane& plane, const std::vector<DraftRoute>& routes) {
  MadePremises out;
  Map dry = map;
  dry.barriers.clear();
  const Footprints footprints = footprints_of(dry, plane, out);
  const Addresses addresses =
      addresses_of(dry, plane, footprints.areas, footprints.left_out, plan::metres(1));
  const Obstacles obstacles(dry, footprints.areas, footprints.left_out, plane);
  const DropStreets streets(routes);
  uint64_t through = 0;
  for (const Site& site : sites_of(dry, footprints, addresses, {}, {}, out))
    through +=
        obstacles.first(streets.nearest(site.centre)->at, site.centre, {site.building, Own::none}, 1000)
            .has_value();
  return through;
}

}  // namespace

TEST_CASE("premises of open towns") {
  // Other names: the converter ignored case only; here 23 premises of "Brandströmstraße" in Faurndau lie on
  // "Brändströmstraße". In the large maps of Neubrandenburg it counted four and three buildings twice, as a
  // relation and as its outline; they are once here.
  const Town towns[] = {
      {"faurndau.osm.gz", 1269, 1273, 20'857.8, 142, 161, 177},
      {"lauf-cut-m.osm.pbf", 1230, 1525, 18'354.0, 0, 0, 0},
      {"lauf-200115.osm.pbf", 6020, 7220, 96'277.4, 376, 1225, 421},
      {"neubrandenburg-cut-s.osm.pbf", 229, 278, 3'687.5, 0, 0, 0},
      {"neubrandenburg-cut-m.osm.pbf", 1088, 1314, 17'197.2, 0, 0, 0},
      {"neubrandenburg-cut-l.osm.pbf", 6160 - 4, 8302 - 4, 119'776.6, 0, 0, 0},
      {"neubrandenburg.osm.bz2", 14'634 - 3, 17'260 - 3, 301'437.3, 427, 1880, 1059},
  };
  for (const Town& town : towns) {
    Map map;
    if (!read_map(town.file, map)) continue;
    INFO(std::string(town.file));
    const Plane plane = plane_of(map);
    const std::vector<DraftRoute> routes = plain_routes(map, plane);
    const MadePremises made = make_premises(map, plane, routes, {});
    CHECK(made.premises.size() == town.premises);
    CHECK(made.counts.addresses == town.addresses);
    CHECK(centre_drops(made, routes).metres == doctest::Approx(town.drops).epsilon(0.001));
    check_feet(made, routes);
    check_400(map, plane, routes);
    if (town.through == 0) continue;
    const double through = static_cast<double>(straight_through(map, plane, routes));
    CHECK(through == doctest::Approx(static_cast<double>(town.through)).epsilon(0.004));
    CHECK(made.counts.through_building < town.through / 4);
    CHECK(static_cast<double>(made.counts.nearest_is_unnamed) ==
          doctest::Approx(static_cast<double>(town.unnamed)).epsilon(0.006));
    CHECK(static_cast<double>(other_by_case(made, routes)) ==
          doctest::Approx(static_cast<double>(town.other)).epsilon(0.01));
    CHECK(made.counts.nearest_is_other <= other_by_case(made, routes));
  }
}

TEST_CASE("premises on the routes that streets become") {
  for (const char* file : {"faurndau.osm.gz", "lauf-200115.osm.pbf"}) {
    Map map;
    if (!read_map(file, map)) continue;
    INFO(std::string(file));
    const Plane plane = plane_of(map);
    const Draft draft = make_streets(map, plane, {});
    const MadePremises made = make_premises(map, plane, draft.routes, {});
    CHECK(made.counts.without_street == 0);
    check_feet(made, draft.routes);
    check_400(map, plane, draft.routes);
  }
}

TEST_CASE("drops above 100 m with and without footways") {
  Map map;
  if (!read_map("neubrandenburg.osm.bz2", map)) return;
  const Plane plane = plane_of(map);
  for (const bool soft : {true, false}) {
    const std::vector<DraftRoute> routes = plain_routes(map, plane, soft);
    const int above = centre_drops(make_premises(map, plane, routes, {}), routes).above_100;
    CHECK(std::abs(above - (soft ? 78 : 345)) <= 1);
  }
}

TEST_CASE("address points at the kerb: Contagem") {
  Map map;
  if (!read_rows("contagem_via.geojsonl.gz", "contagem_geoaddress.geojsonl.gz", {}, map)) return;
  const Plane plane = plane_of(map);
  const std::vector<DraftRoute> routes = plain_routes(map, plane);
  const MadePremises made = make_premises(map, plane, routes, {});
  CHECK(made.premises.size() == 94'572);
  CHECK(made.counts.addresses == 94'572);
  CHECK(made.counts.named == 94'570);
  CHECK(centre_drops(made, routes).metres == doctest::Approx(610'520.6).epsilon(0.001));
  CHECK(static_cast<double>(other_by_case(made, routes)) == doctest::Approx(19'935).epsilon(0.001));
  // 18,595 where dots and blanks within a name count: "Rua F.DE CARVALHO", "ARCO VERDE".
  CHECK(static_cast<double>(made.counts.nearest_is_other) == doctest::Approx(18'595).epsilon(0.05));
  check_feet(made, routes);
  check_400(map, plane, routes);
}

TEST_CASE("address points on the lot: boxes of Belo Horizonte") {
  struct Box {
    LonLatBox box;
    size_t points;
    double drops;
  };
  const Box boxes[] = {
      {{-43.95705, -19.88192, -43.95295, -19.87808}, 301, 5247.1},
      {{-43.95838, -19.88318, -43.95162, -19.87682}, 1002, 0},
      {{-43.96497, -19.88938, -43.94503, -19.87062}, 9994, 0},
      {{-43.98785, -19.91089, -43.92215, -19.84911}, 100'006, 0},
  };
  for (const Box& box : boxes) {
    Map map;
    if (!read_rows("belohorizonte_via.geojsonl.gz", "belohorizonte_geoaddress.geojsonl.gz", box.box, map))
      return;
    const Plane plane = plane_of(map);
    const std::vector<DraftRoute> routes = plain_routes(map, plane);
    const MadePremises made = make_premises(map, plane, routes, {});
    CHECK(made.premises.size() == box.points);
    if (box.drops > 0) CHECK(centre_drops(made, routes).metres == doctest::Approx(box.drops).epsilon(0.001));
    check_feet(made, routes);
    check_400(map, plane, routes);
  }
}

TEST_CASE("690,656 premises of Belo Horizonte in seconds") {
  Map map;
  if (!read_rows("belohorizonte_via.geojsonl.gz", "belohorizonte_geoaddress.geojsonl.gz", {}, map)) return;
  const Plane plane = plane_of(map);
  const std::vector<DraftRoute> routes = plain_routes(map, plane);
  const auto start = std::chrono::steady_clock::now();
  const MadePremises made = make_premises(map, plane, routes, {});
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  MESSAGE("690,656 premises: " << took.count() << " s");
  CHECK(took.count() < 60);  // of a loaded machine; about 2 s of one core
  CHECK(made.premises.size() == 690'656);
  CHECK(static_cast<double>(made.counts.nearest_is_other) == doctest::Approx(83'024).epsilon(0.01));
  check_400(map, plane, routes);
}
