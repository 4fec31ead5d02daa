// Streets across railways, water and motorways, drawn small. Widths of crossings: common practice, no source.
#include "estate/barriers.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include "base/point.h"

using namespace withy;
using Line = std::vector<plan::Point>;

namespace {

MapId way(int64_t number) {
  return {0, MapKind::way, number};
}
// Metres.
Line line_of(std::initializer_list<std::pair<int, int>> metres) {
  Line line;
  for (const auto& m : metres) line.push_back({m.first * 1000, m.second * 1000});
  return line;
}
DraftRoute street(const char* name, Line line) {
  DraftRoute r;
  r.name = r.street = name;
  r.line = std::move(line);
  r.street_class = StreetClass::residential;
  return r;
}
DraftBarrier barrier(int64_t id, BarrierKind kind, Line line) {
  DraftBarrier b;
  b.id = way(id);
  b.kind = kind;
  b.line = std::move(line);
  return b;
}
std::vector<MapRemark> divide(std::vector<DraftRoute>& routes, const std::vector<DraftBarrier>& barriers,
                              bool forbidden = false) {
  std::vector<MapRemark> remarks;
  cross_barriers(routes, barriers, forbidden, remarks);
  return remarks;
}
// By trying every leg with every other.
bool cross(const Line& one, const Line& other) {
  const auto side = [](plan::Point a, plan::Point b, plan::Point p) {
    const int64_t turn = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    return turn > 0 ? 1 : turn < 0 ? -1 : 0;
  };
  for (size_t i = 1; i < one.size(); ++i)
    for (size_t j = 1; j < other.size(); ++j) {
      const plan::Point a = one[i - 1], b = one[i], c = other[j - 1], d = other[j];
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return true;
    }
  return false;
}
const DraftBarrier rail = barrier(7, BarrierKind::rail, line_of({{50, -30}, {50, 30}}));

}  // namespace

TEST_CASE("a street over a railway: two parts and twelve metres of crossing between") {
  std::vector<DraftRoute> routes{street("Mill Lane", line_of({{0, 0}, {100, 0}}))};
  const auto remarks = divide(routes, {rail});
  REQUIRE(routes.size() == 3);
  CHECK(routes[0].name == "Mill Lane part 1");
  CHECK(routes[0].line == line_of({{0, 0}, {44, 0}}));
  CHECK(routes[0].drops);
  CHECK(routes[0].crossing.empty());
  CHECK(routes[1].name == "Mill Lane crossing 1");
  CHECK(routes[1].line == line_of({{44, 0}, {56, 0}}));
  CHECK(routes[1].crossing == "rail");
  CHECK_FALSE(routes[1].drops);
  CHECK(routes[1].forbidden.empty());
  CHECK(routes[1].street == "Mill Lane");
  CHECK(routes[2].name == "Mill Lane part 2");
  CHECK(routes[2].line == line_of({{56, 0}, {100, 0}}));
  REQUIRE(remarks.size() == 1);
  CHECK(remarks[0].kind == RemarkKind::doubtful);
  CHECK(remarks[0].detail == "rail (way 7)");
}

TEST_CASE("every kind has its width and word") {
  for (const auto& [kind, half, word] : {std::tuple(BarrierKind::rail, 6, "rail"),
                                         {BarrierKind::tram, 3, "rail"},
                                         {BarrierKind::water, 5, "water"},
                                         {BarrierKind::motorway, 20, "motorway"}}) {
    std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
    divide(routes, {barrier(1, kind, line_of({{50, -30}, {50, 30}}))});
    REQUIRE(routes.size() == 3);
    CHECK(routes[1].line == line_of({{50 - half, 0}, {50 + half, 0}}));
    CHECK(routes[1].crossing == word);
  }
}

TEST_CASE("bridges, tunnels and other levels do not meet") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
  DraftBarrier over = rail, under = rail, above = rail;
  over.bridge = true, under.tunnel = true, above.level = 1;
  divide(routes, {over, under, above});
  CHECK(routes.size() == 1);
  CHECK(routes[0].name == "A");

  routes[0].level = 1;
  divide(routes, {rail});
  CHECK(routes.size() == 1);
  divide(routes, {above});
  CHECK(routes.size() == 3);
}

TEST_CASE("bridges and tunnels are crossings as a whole") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}})),
                                 street("B", line_of({{0, 9}, {100, 9}}))};
  routes[0].bridge = true, routes[1].tunnel = true;
  divide(routes, {rail}, true);
  REQUIRE(routes.size() == 2);
  CHECK(routes[0].crossing == "bridge");
  CHECK(routes[1].crossing == "tunnel");
  for (const DraftRoute& r : routes) {
    CHECK_FALSE(r.drops);
    CHECK(r.forbidden.empty());
  }
}

TEST_CASE("where crossings were asked to be left out the piece is forbidden, with its reason") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
  divide(routes, {rail}, true);
  REQUIRE(routes.size() == 3);
  CHECK(routes[1].forbidden == "crosses rail (way 7); crossings were asked to be left out");
  CHECK(routes[0].forbidden.empty());
  CHECK(routes[2].forbidden.empty());
}

TEST_CASE("a double track is one crossing; tracks apart are two") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
  const auto second = [](int x) { return barrier(8, BarrierKind::rail, line_of({{x, -30}, {x, 30}})); };
  auto apart = routes;
  divide(routes, {rail, second(54)});
  REQUIRE(routes.size() == 3);
  CHECK(routes[1].line == line_of({{44, 0}, {60, 0}}));
  divide(apart, {rail, second(70)});
  REQUIRE(apart.size() == 5);
  CHECK(apart[3].name == "A crossing 2");
  CHECK(apart[4].name == "A part 3");
}

TEST_CASE("the heaviest of what one piece crosses names it") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
  divide(routes, {barrier(1, BarrierKind::water, line_of({{45, -9}, {45, 9}})), rail});
  REQUIRE(routes.size() == 3);
  CHECK(routes[1].line == line_of({{40, 0}, {56, 0}}));
  CHECK(routes[1].crossing == "rail");
}

TEST_CASE("water as an area is crossed from entry to exit and two metres beyond; its island is dry") {
  const auto ring = [](int64_t id, int low, int high) {
    return barrier(id, BarrierKind::water,
                   line_of({{low, -20}, {high, -20}, {high, 20}, {low, 20}, {low, -20}}));
  };
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {200, 0}}))};
  auto island = routes, inside = routes, beside = routes;
  divide(routes, {ring(1, 40, 160)});
  REQUIRE(routes.size() == 3);
  CHECK(routes[1].line == line_of({{38, 0}, {162, 0}}));
  CHECK(routes[1].crossing == "water");

  divide(island, {ring(1, 40, 160), ring(1, 80, 120)});
  REQUIRE(island.size() == 5);
  CHECK(island[1].line == line_of({{38, 0}, {82, 0}}));
  CHECK(island[2].line == line_of({{82, 0}, {118, 0}}));
  CHECK(island[3].line == line_of({{118, 0}, {162, 0}}));

  divide(inside, {ring(1, -40, 260)});
  REQUIRE(inside.size() == 1);
  CHECK(inside[0].crossing == "water");

  divide(beside, {barrier(1, BarrierKind::water, line_of({{0, 0}, {200, 0}, {200, 20}, {0, 20}, {0, 0}}))});
  CHECK(beside.size() == 1);
  CHECK(beside[0].crossing.empty());
}

TEST_CASE("a crossing ends with its street, and a stump under a metre goes with it") {
  std::vector<DraftRoute> routes{street("A", line_of({{45, 0}, {100, 0}})),
                                 street("B", line_of({{0, 9}, {56, 9}, {56, 50}}))};
  routes[1].line.back() = {56'000, 9'700};
  divide(routes, {rail});
  REQUIRE(routes.size() == 4);
  CHECK(routes[0].line == line_of({{45, 0}, {56, 0}}));
  CHECK(routes[1].line == line_of({{56, 0}, {100, 0}}));
  CHECK(routes[3].line == Line{{44'000, 9'000}, {56'000, 9'000}, {56'000, 9'700}});
}

TEST_CASE("junctions within a crossing stay vertices of it") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {47, 0}, {100, 0}})),
                                 street("B", line_of({{47, 0}, {47, 40}}))};
  divide(routes, {rail});
  REQUIRE(routes.size() == 4);
  CHECK(routes[1].line == line_of({{44, 0}, {47, 0}, {56, 0}}));
  CHECK(routes[3].line == line_of({{47, 0}, {47, 40}}));
}

TEST_CASE("streets that end on a barrier: one of two holds the crossing, a lone one does not cross") {
  const DraftRoute west = street("West", line_of({{0, 0}, {50, 0}})),
                   east = street("East", line_of({{50, 0}, {100, 0}}));
  std::vector<DraftRoute> both{west, east}, turned{east, west}, lone{west};
  divide(both, {rail});
  divide(turned, {rail});
  divide(lone, {rail});
  const auto crossings = [](const std::vector<DraftRoute>& routes) {
    Line lines;
    for (const DraftRoute& r : routes)
      if (r.crossing == "rail") lines.insert(lines.end(), r.line.begin(), r.line.end());
    return lines;
  };
  CHECK(crossings(both) == line_of({{44, 0}, {50, 0}}));
  CHECK(crossings(turned) == crossings(both));
  CHECK(crossings(lone).empty());
}

TEST_CASE("a barrier that ends at a street is not crossed, unless another goes on from there") {
  const auto ramp = [](int64_t id, int y) {
    return barrier(id, BarrierKind::motorway, line_of({{50, 0}, {50, y}}));
  };
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {50, 0}, {100, 0}}))};
  auto two = routes;
  divide(routes, {ramp(1, 60)});
  CHECK(routes.size() == 1);
  divide(two, {ramp(1, 60), ramp(2, -60)});
  CHECK(two.size() == 3);
}

TEST_CASE("a street along a railway gets a remark and no crossing") {
  std::vector<DraftRoute> routes{street("A", line_of({{50, -30}, {50, 30}}))};
  const auto remarks = divide(routes, {rail});
  CHECK(routes.size() == 1);
  CHECK(routes[0].crossing.empty());
  REQUIRE(remarks.size() == 1);
  CHECK(std::string(remarks[0].what) == "runs along a barrier");
}

TEST_CASE("heights go along: a cut lies between its neighbours") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}}))};
  routes[0].heights = {0, 10'000};
  divide(routes, {rail});
  REQUIRE(routes.size() == 3);
  CHECK(routes[1].heights == std::vector<int32_t>{4'400, 5'600});
}

TEST_CASE("lines without length, with a vertex twice or none at all do no harm") {
  std::vector<DraftRoute> routes{street("A", {}), street("B", {{5, 5}}),
                                 street("C", line_of({{50, 0}, {50, 0}})),
                                 street("D", line_of({{0, 0}, {0, 0}, {50, 0}, {50, 0}, {99, 0}}))};
  divide(routes, {rail, barrier(1, BarrierKind::water, {}),
                  barrier(2, BarrierKind::water, line_of({{50, 0}, {50, 0}}))});
  CHECK(routes.size() == 6);
}

TEST_CASE("made names avoid names that are taken") {
  std::vector<DraftRoute> routes{street("A", line_of({{0, 0}, {100, 0}})),
                                 street("A part 1", line_of({{0, 9}, {9, 9}}))};
  divide(routes, {rail});
  REQUIRE(routes.size() == 4);
  CHECK(routes[0].name == "A part 2");
  CHECK(routes[2].name == "A part 3");
}

TEST_CASE("random streets and barriers: lengths are kept, any order gives the same pieces") {
  std::mt19937 dice(5);
  const auto roll = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(dice); };
  std::vector<DraftRoute> routes;
  std::vector<DraftBarrier> barriers;
  for (int i = 0; i < 2'000; ++i) {
    Line line{{roll(0, 5'000'000), roll(0, 5'000'000)}};
    for (int v = roll(1, 5); v > 0; --v)
      line.push_back({line.back().x + roll(-90'000, 90'000), line.back().y + roll(1, 90'000)});
    if (i % 4 > 0)
      routes.push_back(street(("S" + std::to_string(i)).c_str(), line));
    else
      barriers.push_back(barrier(i, static_cast<BarrierKind>(i / 4 % 4), line));
  }
  auto shuffled = routes;
  auto turned = barriers;
  std::shuffle(shuffled.begin(), shuffled.end(), dice);
  std::reverse(turned.begin(), turned.end());
  const auto pieces = [](const std::vector<DraftRoute>& all) {
    std::vector<std::tuple<std::string, Line, std::string>> made;
    for (const DraftRoute& r : all) made.emplace_back(r.name, r.line, r.crossing);
    std::sort(made.begin(), made.end());
    return made;
  };
  const auto length = [](const std::vector<DraftRoute>& all) {
    int64_t sum = 0;
    for (const DraftRoute& r : all) sum += plan::polyline_length(r.line).micrometres() / 1000;
    return sum;
  };
  const int64_t before = length(routes);
  divide(routes, barriers);
  divide(shuffled, turned);
  const auto made = pieces(routes);
  CHECK(made == pieces(shuffled));
  CHECK(std::abs(length(routes) - before) < 2 * static_cast<int64_t>(made.size()));
  CHECK(std::count_if(routes.begin(), routes.end(), [](const DraftRoute& r) { return !r.crossing.empty(); }) >
        100);
  const auto touches = [&](const DraftRoute& r) {
    return std::any_of(barriers.begin(), barriers.end(),
                       [&](const DraftBarrier& b) { return cross(r.line, b.line); });
  };
  for (size_t i = 0; i < routes.size(); ++i) {
    CHECK(routes[i].line.size() > 1);
    CHECK(touches(routes[i]) == !routes[i].crossing.empty());
    if (i > 0 && routes[i].name.substr(0, 6) == routes[i - 1].name.substr(0, 6) && routes[i].name[5] == ' ')
      CHECK(routes[i].line.front() == routes[i - 1].line.back());
  }
}
