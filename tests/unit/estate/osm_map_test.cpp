// OpenStreetMap files: what is taken, what is mended, what is left out. Keys and values as the wiki of
// OpenStreetMap documents them; the counts of the kept cut were made with two other readers.
#include "estate/osm_map.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "files/disk.h"
#include "unit/estate/osm_text.h"

using namespace withy;
using namespace osm_text;

TEST_CASE("the kept cut of Neubrandenburg") {
  Map map;
  const auto counts = read_osm(WITHY_SOURCE "/tests/maps/neubrandenburg-cut-s.osm.pbf", map);
  REQUIRE(counts);
  CHECK(counts->nodes == 1375);  // derived: counted with two readers
  CHECK(counts->ways == 290);
  CHECK(counts->relations == 5);
  CHECK(counts->absent_references == 0);
  CHECK(map.buildings.size() == 229);  // derived: its 229 premises are buildings
  REQUIRE(map.sources.size() == 1);
  CHECK(map.sources[0].nodes == 1375);
  CHECK(map.sources[0].shared_vertices);
  CHECK(map.sources[0].licence.find("OpenStreetMap contributors") != std::string::npos);
  CHECK(map.sources[0].licence.find("ODbL") != std::string::npos);
  for (const MapBuilding& b : map.buildings)
    for (const MapPart& part : b.parts)
      for (const MapPath& ring : part.rings) {
        CHECK(ring.size() >= 4);
        CHECK(ring.front() == ring.back());
      }
  for (const MapStreet& s : map.streets)
    for (const MapPlace& p : s.line) {
      CHECK(p.x == doctest::Approx(13.211).epsilon(0.001));  // complete ways reach a little beyond the box
      CHECK(p.y == doctest::Approx(53.564).epsilon(0.001));
    }
}

TEST_CASE("streets by class, with what they say of themselves") {
  const Map map = read(grid() +
                       way(1, "1 2",
                           tag("highway", "residential") + tag("name", " Weidenweg ") +
                               tag("surface", "sett") + tag("access", "private")) +
                       way(2, "2 3", tag("highway", "primary_link") + tag("bridge", "yes")) +
                       way(3, "4 5", tag("highway", "footway") + tag("tunnel", "building_passage")) +
                       way(4, "5 6", tag("highway", "steps") + tag("layer", "-2") + tag("bridge", "no")) +
                       way(5, "1 2 5 4 1", tag("highway", "pedestrian") + tag("area", "yes")))
                      .map;
  REQUIRE(map.streets.size() == 5);
  const MapStreet& first = map.streets[0];
  CHECK(first.id == MapId{0, MapKind::way, 1});
  CHECK(first.line == MapPath{{11, 50}, {11.001, 50}});
  CHECK(first.street_class == StreetClass::residential);
  CHECK(first.name == " Weidenweg ");
  CHECK(first.surface == "sett");
  CHECK(first.access == "private");
  CHECK_FALSE((first.link || first.bridge || first.tunnel || first.area));
  CHECK(first.level == 0);
  CHECK((map.streets[1].street_class == StreetClass::primary && map.streets[1].link));
  CHECK((map.streets[1].bridge && map.streets[1].level == 1));
  CHECK((map.streets[2].tunnel && map.streets[2].level == -1));
  CHECK((!map.streets[3].bridge && map.streets[3].level == -2));
  CHECK(map.streets[4].area);
  CHECK(map.remarks.empty());
}

TEST_CASE("what is no street") {
  const Map map =
      read(grid() + way(1, "1 2", tag("highway", "motorway")) +
           way(2, "2 3", tag("highway", "motorway_link") + tag("bridge", "yes")) +
           way(3, "4 5", tag("highway", "construction")) + way(4, "5 6", tag("highway", "proposed")) +
           way(5, "7 8", tag("highway", "platform")) + way(6, "8 9", tag("highway", "residential_link")) +
           way(7, "8 9", tag("name", "no tag")))
          .map;
  CHECK(map.streets.empty());
  REQUIRE(map.barriers.size() == 2);
  CHECK(map.barriers[0].kind == BarrierKind::motorway);
  CHECK((map.barriers[1].kind == BarrierKind::motorway && map.barriers[1].bridge &&
         map.barriers[1].level == 1));
  CHECK(count(map, "highway that is no street") == 4);
}

TEST_CASE("a layer that is no number is doubtful") {
  const Map map = read(grid() + way(1, "1 2", tag("highway", "path") + tag("layer", "1;2")) +
                       way(2, "1 2", tag("highway", "path") + tag("layer", "900")))
                      .map;
  CHECK(map.streets[0].level == 0);
  CHECK(map.streets[1].level == 0);
  CHECK(count(map, "layer is no number") == 2);
  for (const MapRemark& remark : map.remarks) CHECK(remark.at == MapPlace{11, 50});
}

TEST_CASE("rails, trams and water are barriers") {
  const Map map = read(grid() + way(1, "1 2", tag("railway", "rail") + tag("tunnel", "yes")) +
                       way(2, "2 3", tag("railway", "tram")) + way(3, "4 5", tag("waterway", "river")) +
                       way(4, "4 5 8 7 4", tag("natural", "water")) +
                       way(5, "4 5", tag("waterway", "ditch")) + way(6, "4 5", tag("railway", "abandoned")) +
                       way(7, "1 4", tag("highway", "residential") + tag("railway", "tram")))
                      .map;
  REQUIRE(map.barriers.size() == 5);
  CHECK((map.barriers[0].kind == BarrierKind::rail && map.barriers[0].tunnel && map.barriers[0].level == -1));
  CHECK((map.barriers[1].kind == BarrierKind::tram && !map.barriers[1].area));
  CHECK((map.barriers[2].kind == BarrierKind::water && !map.barriers[2].area));
  CHECK((map.barriers[3].kind == BarrierKind::water && map.barriers[3].area));
  CHECK(map.barriers[3].line.size() == 5);
  CHECK(map.barriers[4].id.number == 7);
  CHECK(map.streets.size() == 1);
}

TEST_CASE("buildings and addresses") {
  const Map map =
      read(grid() + "<node id='5000000000' lat='50.5' lon='11.5'>" + tag("addr:housenumber", "10a-d") +
           tag("addr:place", "Werder") + tag("addr:unit", "B") + tag("building:flats", "4") + "</node>" +
           "<node id='5000000001' lat='50.5' lon='11.6'>" + tag("addr:housenumber", "0") + "</node>" +
           "<node id='5000000002' lat='50.5' lon='11.7'>" + tag("addr:street", "Uferweg") + "</node>" +
           way(4000000000, "1 2 5 4 1",
               tag("building", "apartments") + tag("addr:street", "Uferweg") +
                   tag("addr:housenumber", "25/1") + tag("building:levels", "3") +
                   tag("building:flats", "9") + tag("shop", "bakery")) +
           way(2, "1 2 5 4 1", tag("building", "no")) + way(3, "1 2 3", tag("addr:interpolation", "odd")) +
           way(5, "1 2 5 4", tag("building", "yes")) + way(6, "1 2 1", tag("building", "yes")) +
           way(7, "1 2 5 4 1", tag("addr:housenumber", "3")))
          .map;
  REQUIRE(map.buildings.size() == 1);
  const MapBuilding& b = map.buildings[0];
  CHECK(b.id.number == 4000000000);
  CHECK(b.kind == "apartments");
  CHECK(b.street == "Uferweg");
  CHECK(b.number == "25/1");
  CHECK(b.levels == "3");
  CHECK(b.flats == "9");
  CHECK(b.use == "bakery");
  REQUIRE(map.addresses.size() == 2);
  CHECK(map.addresses[0].id == MapId{0, MapKind::node, 5000000000});
  CHECK(map.addresses[0].at == MapPlace{11.5, 50.5});
  CHECK(map.addresses[0].street == "Werder");
  CHECK(map.addresses[0].number == "10a-d");
  CHECK(map.addresses[0].unit == "B");
  CHECK(map.addresses[0].dwellings == "4");
  CHECK(only(map, "address without a street").id.number == 5000000001);
  CHECK(only(map, "address interpolation").id.number == 3);
  CHECK(only(map, "address on a way that is no building").id.number == 7);
  CHECK(count(map, "building outline does not close") == 2);
}

TEST_CASE("clipped files: absent nodes are dropped, and the longest straight line is told") {
  // 1 to 7 across absent nodes: 0.002 degrees of latitude, 222.4 m (60 nautical miles of 1,853 m a degree
  // less 0.02 %: the mean radius gives 111,195 m a degree).
  const Read r =
      read(grid() + way(1, "1 901 902 7 903", tag("highway", "residential")) +
           way(2, "1 904 2", tag("highway", "service")) + way(3, "905 9 906", tag("highway", "service")) +
           way(4, "907 908", tag("highway", "service")) + way(5, "1 2 909 4 1", tag("building", "yes")) +
           way(6, "910 1", tag("power", "line")));
  REQUIRE(r.map.streets.size() == 2);
  CHECK(r.map.streets[0].line == MapPath{{11, 50}, {11, 50.002}});
  CHECK(r.map.buildings.empty());
  CHECK(r.counts.references == 20);
  CHECK(r.counts.absent_references == 10);
  CHECK(r.counts.absent_from_highways == 8);
  CHECK(r.counts.absent_from_buildings == 1);
  CHECK(r.counts.longest_jump_metres == doctest::Approx(222.39).epsilon(1e-4));
  CHECK(r.counts.longest_jump.number == 1);
  CHECK(count(r.map, "way with fewer than two places") == 2);
  CHECK(only(r.map, "building outline does not close").id.number == 5);
  REQUIRE(count(r.map, "absent nodes dropped from a way") == 2);
  for (const MapRemark& remark : r.map.remarks)
    if (remark.id.number == 1) CHECK(remark.detail == "3 absent, longest straight line across them 222.4 m");
}

TEST_CASE("repeated nodes, nodes at one place, objects given twice, a way that meets itself") {
  const Map map =
      read(grid() + "<node id='20' lat='50.001' lon='11.001'/>\n<node id='3' lat='50.0' lon='11.0025'/>\n" +
           way(1, "1 2 2 5", tag("highway", "residential")) +
           way(2, "4 20 6", tag("highway", "residential")) + way(3, "1 2 5 4 1", tag("highway", "service")) +
           way(4, "2 3", tag("highway", "service")) + way(4, "3 6", tag("highway", "path")) +
           way(5, "5 20", tag("highway", "service")))
          .map;
  REQUIRE(map.streets.size() == 4);
  CHECK(map.streets[0].line.size() == 3);
  CHECK(only(map, "node repeated within a way").id.number == 1);
  CHECK(map.streets[2].line.front() == map.streets[2].line.back());
  CHECK(map.streets[1].line[1] == map.streets[0].line[2]);
  CHECK(only(map, "two street nodes at one place").detail == "the other is node 5");
  CHECK(map.streets[3].street_class == StreetClass::path);
  CHECK(map.streets[3].line[0] == MapPlace{11.0025, 50});
  CHECK(only(map, "way given more than once").id.number == 4);
  CHECK(only(map, "node given more than once").id.number == 3);
  CHECK(only(map, "way with fewer than two places").id.number == 5);
}

TEST_CASE("nodes with no place on the earth") {
  const Read r = read(grid() + "<node id='20' lat='50' lon='180.5'/><node id='21' lat='-91' lon='11'/>" +
                      "<node id='22'/>" + way(1, "1 20 21 22 2", tag("highway", "residential")));
  CHECK(r.counts.nodes == 12);
  CHECK(r.counts.unplaced_nodes == 3);
  CHECK(count(r.map, "node without a place") == 3);
  CHECK(r.counts.absent_references == 3);
  REQUIRE(r.map.streets.size() == 1);
  CHECK(r.map.streets[0].line.size() == 2);
}

TEST_CASE("objects in any order give the same map") {
  const std::string nodes = grid();
  const std::string a = way(8, "1 2", tag("highway", "residential")),
                    b = way(3, "2 3", tag("highway", "path"));
  const std::string c = way(9, "1 2 5 4 1", ""), d = relation(4, "9", tag("building", "yes"));
  const Map sorted = read(nodes + b + a + c + d).map, mixed = read(d + c + a + nodes + b).map;
  REQUIRE(sorted.streets.size() == 2);
  REQUIRE(mixed.streets.size() == 2);
  for (size_t i = 0; i < 2; ++i) {
    CHECK(sorted.streets[i].id == mixed.streets[i].id);
    CHECK(sorted.streets[i].line == mixed.streets[i].line);
  }
  REQUIRE(mixed.buildings.size() == 1);
  CHECK(mixed.buildings[0].parts[0].rings == sorted.buildings[0].parts[0].rings);
}

TEST_CASE("several files become one map") {
  const Folder folder;
  Map map;
  const auto text = osm(grid() + way(1, "1 2", tag("highway", "path")));
  REQUIRE(read_osm(folder.write("a.osm", text), map));
  REQUIRE(read_osm(folder.write("b.osm", text), map));
  CHECK(map.sources.size() == 2);
  CHECK(map.streets.at(1).id == MapId{1, MapKind::way, 1});
}

TEST_CASE("names of files") {
  for (const char* good : {"a.osm", "a.osm.pbf", "a.OSM.GZ", "a.b.osm.bz2"}) CHECK(is_osm_name(good));
  for (const char* bad : {"a.pbf", "a.gz", "osm", "a.osm.zip", "a.geojson", ""})
    CHECK_FALSE(is_osm_name(bad));
}
