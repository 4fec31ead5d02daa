// Areas of multipolygon relations: rings from several ways, courtyards, several outsides.
#include <doctest/doctest.h>

#include <string>

#include "estate/osm_rings.h"
#include "unit/estate/osm_text.h"

using namespace withy;
using namespace osm_text;

namespace {

// Nodes id .. id+3: a square of `side` hundred-thousandths of a degree with its south-west corner there.
std::string square(int64_t id, int x, int y, int side) {
  std::string text;
  const int corner[4][2] = {{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}};
  for (int i = 0; i < 4; ++i) {
    char node[96];
    std::snprintf(node, sizeof node, "<node id='%d' lat='50.%05d' lon='11.%05d'/>\n",
                  static_cast<int>(id) + i, corner[i][1], corner[i][0]);
    text += node;
  }
  return text;
}

const std::string squares =
    square(10, 0, 0, 100) + square(20, 20, 20, 50) + square(30, 30, 30, 10) + square(40, 200, 0, 50);
const std::string courtyard = way(2, "20 21 22 23 20", "");

}  // namespace

TEST_CASE("a building of two half rings with a courtyard, roles or not") {
  const Map map = read(squares + way(1, "10 11 12", "") + way(3, "10 13 12", "") + courtyard +
                       relation(7, "2 3 1", tag("building", "school") + tag("addr:housenumber", "4")))
                      .map;
  REQUIRE(map.buildings.size() == 1);
  const MapBuilding& b = map.buildings[0];
  CHECK(b.id == MapId{0, MapKind::relation, 7});
  CHECK(b.kind == "school");
  CHECK(b.number == "4");
  REQUIRE(b.parts.size() == 1);
  REQUIRE(b.parts[0].rings.size() == 2);
  CHECK(b.parts[0].rings[0].size() == 5);
  CHECK(b.parts[0].rings[0].front() == b.parts[0].rings[0].back());
  CHECK(b.parts[0].rings[1][0] == MapPlace{11.0002, 50.0002});
  CHECK(map.remarks.empty());
}

TEST_CASE("two outsides, and a house in the courtyard of the first") {
  const Map map = read(squares + way(1, "10 11 12 13 10", "") + courtyard + way(3, "30 31 32 33 30", "") +
                       way(4, "40 41 42 43 40", "") + relation(7, "1 2 3 4", tag("building", "yes")))
                      .map;
  REQUIRE(map.buildings.size() == 1);
  const auto& parts = map.buildings[0].parts;
  REQUIRE(parts.size() == 3);
  CHECK(parts[0].rings.size() == 2);
  CHECK(parts[1].rings.size() == 1);
  CHECK(parts[2].rings.size() == 1);
}

TEST_CASE("an outline that repeats its relation is one building with it") {
  const std::string outline =
      way(1, "10 11 12 13 10",
          tag("building", "house") + tag("addr:housenumber", "9") + tag("addr:street", "Uferweg"));
  const Map map = read(squares + outline + courtyard + relation(7, "1 2", tag("building", "yes"))).map;
  REQUIRE(map.buildings.size() == 1);
  CHECK(map.buildings[0].id.kind == MapKind::relation);
  CHECK(map.buildings[0].kind == "house");
  CHECK(map.buildings[0].number == "9");
  CHECK(map.buildings[0].street == "Uferweg");
  CHECK(only(map, "building way repeats its relation").id.number == 1);
}

TEST_CASE("a relation round buildings of different addresses only groups them") {
  const auto house = [](const char* number) {
    return tag("building", "yes") + tag("addr:housenumber", number);
  };
  const Map map = read(squares + way(1, "10 11 12 13 10", house("1")) + way(4, "40 41 42 43 40", house("3")) +
                       relation(7, "1 4", tag("building", "yes")))
                      .map;
  CHECK(map.buildings.size() == 2);
  CHECK(only(map, "building relation groups addressed buildings").id.number == 7);
}

TEST_CASE("the courtyard and address of an untagged relation go to its outer way") {
  const Map map = read(squares + way(1, "10 11 12 13 10", tag("building", "yes")) + courtyard +
                       relation(7, "1 2", tag("addr:housenumber", "14") + tag("addr:street", "Markt")))
                      .map;
  REQUIRE(map.buildings.size() == 1);
  CHECK(map.buildings[0].id == MapId{0, MapKind::way, 1});
  CHECK(map.buildings[0].parts[0].rings.size() == 2);
  CHECK(map.buildings[0].number == "14");
  CHECK(map.buildings[0].street == "Markt");
  CHECK(count(map, "courtyard taken from an untagged relation") == 1);
}

TEST_CASE("areas that do not close: a building is left out, a lake keeps its shores") {
  const std::string half = way(1, "10 11 12", "");
  const Map map = read(squares + half + relation(7, "1 99", tag("building", "yes")) +
                       relation(8, "1 99", tag("natural", "water")))
                      .map;
  CHECK(map.buildings.empty());
  CHECK(only(map, "area of a relation does not close").id.number == 7);
  REQUIRE(map.barriers.size() == 1);
  CHECK_FALSE(map.barriers[0].area);
  CHECK(map.barriers[0].line.size() == 3);
}

TEST_CASE("a lake with an island, a square as a relation") {
  const Map map =
      read(squares + way(1, "10 11 12 13 10", "") + courtyard + relation(7, "1 2", tag("natural", "water")) +
           relation(8, "1 2", tag("highway", "pedestrian") + tag("name", "Markt")))
          .map;
  REQUIRE(map.barriers.size() == 1);
  CHECK(map.barriers[0].area);
  CHECK(map.barriers[0].islands.size() == 1);
  REQUIRE(map.streets.size() == 1);
  CHECK(map.streets[0].area);
  CHECK(map.streets[0].name == "Markt");
}

TEST_CASE("rings that touch at a node are told apart; too much work gives nothing") {
  // A square and a smaller one inside it that share the corner node 1.
  const OsmLine outer{{1, 0, 0}, {2, 100, 0}, {3, 100, 100}, {4, 0, 100}, {1, 0, 0}};
  const OsmLine inner{{1, 0, 0}, {5, 50, 10}, {6, 50, 50}, {7, 10, 50}, {1, 0, 0}};
  const auto parts = nested({inner, outer});
  REQUIRE(parts.size() == 1);
  CHECK(parts[0].rings == std::vector<OsmLine>{outer, inner});
  CHECK(nested({inner, outer}, 3).empty());
}

TEST_CASE("a thousand short pieces through one node are joined without trying all") {
  std::vector<OsmLine> pieces;
  for (int i = 1; i <= 100'000; ++i) {
    pieces.push_back({{0, 0, 0}, {2 * i, i, 1}});
    pieces.push_back({{2 * i, i, 1}, {2 * i + 1, i, 2}, {0, 0, 0}});
  }
  const OsmRings rings = joined(std::move(pieces));
  CHECK(rings.closed.size() == 100'000);
  CHECK(rings.open.empty());
}
