// Components and headend proposals on maps drawn by hand, and on a large one.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <random>

#include "estate/headends.h"

using namespace withy;
using plan::Point;

namespace {

DraftRoute street(std::string name, std::vector<Point> line, int level = 0) {
  DraftRoute r;
  r.name = std::move(name), r.line = std::move(line), r.level = level;
  return r;
}
DraftPremises house(Point at, int dwellings = 1) {
  DraftPremises p;
  p.at = at, p.dwellings = dwellings, p.name = fmt::format("{} {}", at.x, at.y);
  return p;
}

// Squares of 100 m: `across` by `across` crossings, each block of street with `houses` houses on it.
Draft grid(int across, int houses) {
  Draft draft;
  const auto at = [](int i, int j) { return Point{int64_t{i} * 100'000, int64_t{j} * 100'000}; };
  for (int j = 0; j < across; ++j)
    for (int i = 0; i < across; ++i) {
      if (i + 1 < across)
        draft.routes.push_back(street(fmt::format("e{} {}", i, j), {at(i, j), at(i + 1, j)}));
      if (j + 1 < across)
        draft.routes.push_back(street(fmt::format("n{} {}", i, j), {at(i, j), at(i, j + 1)}));
      if (i + 1 == across) continue;
      for (int k = 0; k < houses; ++k)
        draft.premises.push_back(
            house({at(i, j).x + 100'000 * (2 * k + 1) / (2 * houses), at(i, j).y + 10'000}));
    }
  return draft;
}

int64_t all_dwellings(const Draft& draft) {
  int64_t sum = 0;
  for (const DraftHeadend& h : draft.headends) sum += h.dwellings;
  return sum;
}

}  // namespace

TEST_CASE("streets meet at shared vertices, stacked ones only where one of them ends") {
  Draft draft;
  draft.routes = {street("ground", {{0, 0}, {50'000, 0}, {100'000, 0}}),
                  street("bridge", {{50'000, -50'000}, {50'000, 0}, {50'000, 50'000}}, 1),
                  street("stairs", {{70'000, 0}, {100'000, 0}}, 2),
                  street("yard", {{0, 300'000}, {60'000, 300'000}})};
  Components c = components_of(draft);
  REQUIRE(c.all.size() == 3);
  CHECK(c.of_route == std::vector<uint32_t>{0, 1, 0, 2});
  CHECK(c.all[0].length == 130'000);
  draft.routes[1].level = 0;  // a crossing on the ground
  CHECK(components_of(draft).all.size() == 2);
  draft.routes[1].forbidden = "the water board: no digging";
  c = components_of(draft);
  CHECK(c.of_route[1] == no_component);
  CHECK(c.all.size() == 2);
}

TEST_CASE("a premises hangs on the nearest street that a drop may leave, or on the one it names") {
  Draft draft;
  draft.routes = {street("near", {{0, 0}, {100'000, 0}}), street("far", {{0, 40'000}, {100'000, 40'000}})};
  draft.premises = {house({50'000, 10'000}), house({50'000, 10'000}), house({50'000, 900'000})};
  draft.premises[1].drop_from = Point{50'000, 39'000};
  Components c = components_of(draft);
  CHECK(c.route_of == std::vector<uint32_t>{0, 1, UINT32_MAX});
  CHECK(c.drop == std::vector<int64_t>{10'000, 30'000, 860'000});
  CHECK(c.of_premises[2] == no_component);
  draft.routes[0].drops = false;
  CHECK(components_of(draft).route_of[0] == 1);
}

TEST_CASE("one headend near the middle of the dwellings, on a vertex of its streets") {
  Draft draft;
  draft.routes = {street("lane", {{0, 0}, {100'000, 0}, {200'000, 0}, {300'000, 0}}),
                  street("other", {{150'000, 5'000}, {150'000, 400'000}})};
  draft.premises = {house({10'000, 5'000}, 10), house({110'000, 5'000}, 5), house({210'000, 5'000}, 30),
                    house({290'000, 5'000}, 10)};
  Components c = components_of(draft);
  propose_headends(draft, c, {20'000, 50});
  REQUIRE(draft.headends.size() == 1);
  CHECK(draft.headends[0].name == "Headend 1");
  CHECK(draft.headends[0].at == Point{200'000, 0});  // the 28th of 55 dwellings stands at 210 m
  CHECK(draft.headends[0].dwellings == 55);
}

TEST_CASE("a component too small for a headend gets none, and the gap to the next is measured") {
  Draft draft;
  draft.routes = {street("town", {{0, 0}, {100'000, 0}}),
                  street("hamlet", {{130'000, -40'000}, {130'000, 40'000}})};
  draft.premises = {house({50'000, 5'000}, 60), house({135'000, 20'000}, 49)};
  Components c = components_of(draft);
  propose_headends(draft, c, {20'000, 50});
  CHECK(draft.headends.size() == 1);
  REQUIRE(c.all.size() == 2);
  CHECK(c.all[0].headend);
  CHECK_FALSE(c.all[1].headend);
  CHECK(c.all[1].premises == 1);
  CHECK(c.all[1].gap == 30'000);  // from the end of the town's street to the middle of the hamlet's
  remark_unreached(draft, c, [](Point p) { return MapPlace{static_cast<double>(p.x), 7}; });
  REQUIRE(draft.remarks.size() == 1);
  CHECK(draft.remarks[0].at == MapPlace{130'000, 7});
  CHECK(draft.remarks[0].detail == "1 premises, 0.080 km of street, 30.0 m to join it");
  propose_headends(draft, c, {20'000, 1000});
  REQUIRE(draft.headends.size() == 1);  // no component is large enough: the one with the most dwellings
  CHECK(draft.headends[0].dwellings == 60);
}

TEST_CASE("parts hold at most the stated number and are balanced, whatever the order of the rows") {
  Draft draft = grid(40, 12);  // 18,720 premises
  Components c = components_of(draft);
  propose_headends(draft, c, {5'000, 50});
  CHECK(draft.headends.size() == 4);
  CHECK(all_dwellings(draft) == 18'720);
  for (const DraftHeadend& h : draft.headends) {
    CHECK(h.dwellings <= 5'000);
    CHECK(h.dwellings > 4'500);
  }
  Draft shuffled = draft;
  std::mt19937 order(5);
  std::shuffle(shuffled.premises.begin(), shuffled.premises.end(), order);
  std::shuffle(shuffled.routes.begin(), shuffled.routes.end(), order);
  c = components_of(shuffled);
  propose_headends(shuffled, c, {5'000, 50});
  REQUIRE(shuffled.headends.size() == draft.headends.size());
  for (size_t i = 0; i < draft.headends.size(); ++i) CHECK(shuffled.headends[i].at == draft.headends[i].at);
}

TEST_CASE("a building larger than a headend's share stands alone; nothing loops") {
  Draft draft;
  draft.routes = {street("lane", {{0, 0}, {100'000, 0}})};
  draft.premises = {house({10'000, 0}, 500), house({50'000, 0}, 1), house({50'000, 0}, 1)};
  Components c = components_of(draft);
  propose_headends(draft, c, {100, 50});
  CHECK(all_dwellings(draft) == 502);
  CHECK(draft.headends.size() <= 3);
  Draft empty;
  c = components_of(empty);
  propose_headends(empty, c, {});
  CHECK(empty.headends.empty());
}

TEST_CASE("a hundred thousand premises, many of them at one place") {
  Draft draft = grid(100, 10);  // 99,000
  for (int k = 0; k < 1'000; ++k) draft.premises.push_back(house({5'050'000, 5'010'000}));
  Components c = components_of(draft);
  propose_headends(draft, c, {20'000, 50});
  CHECK(draft.headends.size() == 5);
  CHECK(all_dwellings(draft) == 100'000);
  for (const DraftHeadend& h : draft.headends) CHECK(h.dwellings <= 20'000);
}
