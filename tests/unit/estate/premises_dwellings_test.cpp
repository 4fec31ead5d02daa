// How many dwellings a text, an address and a building stand for.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "estate/dwellings.h"
#include "unit/estate/premises_drawn.h"

using namespace withy;

TEST_CASE("a text of flats is a number, a range or a list") {
  CHECK(dwellings_in("6") == 6);
  CHECK(dwellings_in(" 1-8 ") == 8);
  CHECK(dwellings_in("5 - 7") == 3);
  CHECK(dwellings_in("1;3;5-7") == 5);
  CHECK(dwellings_in("1,2") == 2);
  CHECK(dwellings_in("a-d") == 4);
  CHECK(dwellings_in("A-d") == 4);
  CHECK(dwellings_in("left") == 1);
  CHECK(dwellings_in("8-1") == 1);
}

TEST_CASE("what says no sensible number says nothing") {
  for (const char* text :
       {"", "  ", "0", "-3", ";;", "10001", "1-99999", "1-10;2-1000000000", "99999999999-1;1-10000"}) {
    CAPTURE(std::string(text));
    CHECK(!dwellings_in(text));
  }
}

TEST_CASE("levels") {
  CHECK(levels_in("5") == 5);
  CHECK(levels_in("4.5") == 5);
  CHECK(levels_in("3;4") == 4);
  for (const char* text : {"", "0", "-2", "201", "nan", "1e300", "many"}) {
    CAPTURE(std::string(text));
    CHECK(!levels_in(text));
  }
}

namespace {

Dwellings of(const drawn::Estate& e, std::vector<uint32_t> addresses, double area) {
  const MapBuilding* building = e.map.buildings.empty() ? nullptr : &e.map.buildings[0];
  return dwellings_of(e.map, addresses, building, area, e.rules);
}

}  // namespace

TEST_CASE("addresses go before flats, flats before levels, levels before one") {
  drawn::Estate e;
  MapBuilding& b = e.building(drawn::box(0, 0, 20, 10));
  CHECK(of(e, {}, 200).number == 1);
  CHECK(of(e, {}, 200).rule == std::string("one, nothing stated"));
  b.levels = "3";
  CHECK(of(e, {}, 200).number == 1);  // a house of three levels is one dwelling
  b.kind = "apartments";
  CHECK(of(e, {}, 200).number == 6);  // 3 x 200 m2 / 100 m2
  CHECK(of(e, {}, 200).rule == std::string("levels times area of a building of flats"));
  CHECK(of(e, {}, 200).known == Known::assumed);
  CHECK(of(e, {}, 10).number == 1);
  b.flats = "1-8";
  CHECK(of(e, {}, 200).number == 8);
  CHECK(of(e, {}, 200).known == Known::mapped);
  e.address(1, 1, "Mill Lane", "1");
  CHECK(of(e, {0}, 200).number == 8);  // one address says nothing about dwellings
  e.address(2, 1, "Mill Lane", "1a");
  CHECK(of(e, {0, 1}, 200).number == 2);
  CHECK(of(e, {0, 1}, 200).rule == std::string("one for each address"));
  e.map.addresses[0].dwellings = "4";
  CHECK(of(e, {0, 1}, 200).number == 5);
  CHECK(of(e, {0, 1}, 200).rule == std::string("stated at its addresses"));
}

TEST_CASE("an address given twice is one, its units are not") {
  drawn::Estate e;
  for (const char* unit : {"", "", "2", "2", "3"}) e.address(0, 0, "Mill Lane", "1").unit = unit;
  CHECK(of(e, {0, 1}, 0).number == 1);
  CHECK(of(e, {0, 1, 2, 3, 4}, 0).number == 3);
}

TEST_CASE("more than four dwellings get a building point and a riser of three metres a level") {
  drawn::Estate e;
  e.route({{0, -10}, {100, -10}});
  e.building(drawn::box(0, 0, 10, 10)).flats = "4";
  e.building(drawn::box(20, 0, 30, 10)).flats = "5";
  MapBuilding& tall = e.building(drawn::box(40, 0, 50, 10));
  tall.flats = "40", tall.levels = "8";
  const MadePremises made = e.made();
  CHECK(!drawn::named(made, "way 2").building_point);
  CHECK(drawn::named(made, "way 2").riser == 0);
  CHECK(drawn::named(made, "way 3").building_point);
  CHECK(drawn::named(made, "way 3").riser == 9000);  // three levels assumed
  CHECK(drawn::named(made, "way 4").riser == 24000);
  CHECK(made.counts.multi_dwelling == 2);
}
