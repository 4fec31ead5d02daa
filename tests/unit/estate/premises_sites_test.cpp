// Which buildings and address points are one premises.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "unit/estate/premises_drawn.h"

using namespace withy;
using drawn::at;
using drawn::box;
using drawn::named;
using drawn::Remarks;
using drawn::remarks_on;

namespace {

std::vector<std::string> names(const MadePremises& made) {
  std::vector<std::string> out;
  for (const DraftPremises& p : made.premises) out.push_back(p.name);
  std::sort(out.begin(), out.end());
  return out;
}
using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("sheds and outbuildings are left out unless they have a number or an address") {
  drawn::Estate e;
  e.building(box(0, 0, 10, 10));                   // 1
  e.building(box(20, 0, 24, 6));                   // 2: 24 m2
  e.building(box(30, 0, 35, 5));                   // 3: 25 m2
  e.building(box(40, 0, 50, 10)).kind = "garage";  // 4
  e.building(box(60, 0, 70, 10)).kind = "barn";    // 5, numbered
  e.map.buildings.back().number = "5";
  e.building(box(80, 0, 84, 4));       // 6, with an address
  e.address(82, 2, "Mill Lane", "6");  // 7
  const MadePremises made = e.made();
  CHECK(names(made) == Names{"5", "Mill Lane 6", "way 1", "way 3"});
  CHECK(remarks_on(made, 2)[0] == "building too small: 24.0 m2");
  CHECK(remarks_on(made, 4)[0] == "outbuilding: garage");
  CHECK(made.counts.too_small == 1);
  CHECK(made.counts.outbuildings == 1);
  CHECK(made.counts.addresses == 4);
}

TEST_CASE("an address within a metre belongs to the nearest building, another one stands alone") {
  drawn::Estate e;
  e.building(box(0, 0, 10, 10));          // 1
  e.building(box(11.2, 0, 20, 10));       // 2
  e.address(10.5, 5, "Mill Lane", "1");   // 0.5 m from the first, 0.7 m from the second
  e.address(10.9, 5, "Mill Lane", "2");   // 0.3 m from the second
  e.address(5, 11.01, "Mill Lane", "3");  // 1.01 m off
  e.address(5, 5, "Mill Lane", "1a");     // inside
  const MadePremises made = e.made();
  CHECK(names(made) == Names{"Mill Lane 1", "Mill Lane 2", "Mill Lane 3"});
  CHECK(named(made, "Mill Lane 1").dwellings == 2);
  CHECK(named(made, "Mill Lane 1").centre == at(5, 5));
  CHECK(named(made, "Mill Lane 3").centre == at(5, 11.01));
  CHECK(named(made, "Mill Lane 3").id == MapId{0, MapKind::node, 5});
  CHECK(made.counts.points_in_buildings == 3);
  CHECK(made.counts.premises_of_buildings == 2);
  CHECK(made.counts.premises_of_points == 1);
}

TEST_CASE("address points of one position are one premises, counted") {
  drawn::Estate e;
  e.address(5, 5, "Mill Lane", "10");
  e.address(5.04, 5, "Mill Lane", "9");
  e.address(5.2, 5, "Mill Lane", "11");
  const MadePremises made = e.made();
  CHECK(names(made) == Names{"Mill Lane 11", "Mill Lane 9"});
  CHECK(named(made, "Mill Lane 9").dwellings == 2);
  CHECK(remarks_on(made, 1)[0] == "address points at one position made one: 2 points");
  CHECK(made.counts.merged_points == 1);
  CHECK(made.counts.addresses == 3);
}

TEST_CASE("polygons of a vector source drawn twice are one, outlines of two ways are two") {
  drawn::Estate e;
  e.building(box(0, 0, 10, 10));
  e.building(box(0, 0, 10, 10));
  CHECK(e.made().premises.size() == 2);
  for (MapBuilding& b : e.map.buildings) b.id.kind = MapKind::feature;
  const MadePremises made = e.made();
  CHECK(names(made) == Names{"feature 1"});
  CHECK(remarks_on(made, 2) == Remarks{"building drawn twice: same as feature 1"});
  CHECK(made.counts.duplicate_buildings == 1);
}

TEST_CASE("a courtyard is outside, and counts as area; the centre may lie in it") {
  drawn::Estate e;
  e.building(std::vector<MapPart>{{{box(0, 0, 40, 40), box(2, 2, 38, 38)}}});
  e.address(20, 20, "Mill Lane", "7");  // 18 m from any wall
  e.map.buildings[0].kind = "apartments";
  e.map.buildings[0].levels = "1";
  const MadePremises made = e.made();
  REQUIRE(made.premises.size() == 2);
  CHECK(named(made, "way 1").centre == at(20, 20));
  CHECK(named(made, "way 1").dwellings == 16);  // 1600 m2 / 100 m2
}

TEST_CASE("a building of two parts stands in the larger one") {
  drawn::Estate e;
  e.route({{-50, -10}, {50, -10}});
  e.building(std::vector<MapPart>{{{box(0, 0, 4, 4)}}, {{box(20, 0, 30, 10)}}});
  const MadePremises made = e.made();
  REQUIRE(made.premises.size() == 1);
  CHECK(made.premises[0].centre == at(25, 5));
  CHECK(made.premises[0].at == at(25, 0));
}

TEST_CASE("the centre is the centroid, not the mean of the corners") {
  drawn::Estate e;
  e.building(MapPath{{0, 0}, {10, 0}, {20, 0}, {30, 0}, {30, 10}, {0, 10}, {0, 0}});
  e.building(MapPath{{100, 0}, {130, 0}, {100, 30}});  // open, clockwise or not: a third of the way
  const MadePremises made = e.made();
  CHECK(named(made, "way 1").centre == at(15, 5));
  CHECK(named(made, "way 2").centre == at(110, 10));
}

TEST_CASE("outlines that are none are left out and do no harm") {
  drawn::Estate e;
  e.building(std::vector<MapPart>{});
  e.building(std::vector<MapPart>{{{}}});
  e.building(MapPath{{0, 0}, {1, 1}});
  e.building(MapPath{{5, 5}, {5, 5}, {5, 5}, {5, 5}}).number = "4";  // of no size, numbered
  const MadePremises made = e.made();
  CHECK(names(made) == Names{"4"});
  CHECK(made.premises[0].centre == at(5, 5));
  CHECK(made.counts.without_outline == 3);
}

TEST_CASE("a building is called by its own number, else by its least address") {
  drawn::Estate e;
  e.building(box(0, 0, 10, 10));
  e.address(1, 1, "Mill Lane", "10a");
  e.address(2, 1, "Mill Lane", "10");
  e.address(3, 1, "Mill Lane", " 9 ");
  e.address(4, 1, "Mill Lane", "WH 2");
  MadePremises made = e.made();
  CHECK(made.premises[0].name == "Mill Lane 9");
  CHECK(made.premises[0].street == "Mill Lane");
  e.map.buildings[0].street = "Old Road", e.map.buildings[0].number = "2-4";
  made = e.made();
  CHECK(made.premises[0].name == "Old Road 2-4");
  CHECK(made.premises[0].dwellings == 4);
}

TEST_CASE("no map, no premises") {
  const MadePremises made = drawn::Estate().made();
  CHECK(made.premises.empty());
  CHECK(made.remarks.empty());
}
