// Sides of streets, drawn small and as laws on random towns. Half-widths and spacing: common practice, no
// source.
#include "estate/both_sides.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <random>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "base/point.h"
#include "estate/route_line.h"

using namespace withy;
using Line = std::vector<plan::Point>;

namespace {

// Metres.
Line line_of(std::initializer_list<std::pair<int, int>> metres) {
  Line line;
  for (const auto& m : metres) line.push_back({m.first * 1000, m.second * 1000});
  return line;
}
DraftRoute street(const std::string& name, Line line, StreetClass street_class = StreetClass::residential) {
  DraftRoute r;
  r.name = r.street = name;
  r.line = std::move(line);
  r.street_class = street_class;
  return r;
}
std::vector<DraftRoute> sides(const std::vector<DraftRoute>& routes, const SideRules& rules = {}) {
  std::vector<MapRemark> remarks;
  return both_sides(routes, rules, remarks);
}
const DraftRoute* named(const std::vector<DraftRoute>& routes, const std::string& name) {
  for (const DraftRoute& r : routes)
    if (r.name == name) return &r;
  return nullptr;
}
size_t count(const std::vector<DraftRoute>& routes, const std::string& word) {
  return static_cast<size_t>(std::count_if(routes.begin(), routes.end(), [&](const DraftRoute& r) {
    return r.name.find(" " + word + " ") != std::string::npos;
  }));
}

// Component of every route: lines meet at shared vertices of one level, and at ends.
std::vector<size_t> components(const std::vector<DraftRoute>& routes) {
  std::vector<size_t> up(routes.size());
  std::iota(up.begin(), up.end(), size_t{0});
  const auto top = [&](size_t i) {
    while (up[i] != i) i = up[i] = up[up[i]];
    return i;
  };
  std::map<plan::Point, std::vector<std::tuple<bool, int, size_t>>> uses;
  for (size_t i = 0; i < routes.size(); ++i)
    for (const plan::Point p : routes[i].line)
      uses[p].emplace_back(p != routes[i].line.front() && p != routes[i].line.back(), routes[i].level, i);
  for (auto& use : uses) {
    auto& all = use.second;
    std::sort(all.begin(), all.end());
    for (size_t k = 1; k < all.size(); ++k)
      if (!std::get<0>(all[0]) || std::get<1>(all[k]) == std::get<1>(all[k - 1]))
        up[top(std::get<2>(all[k]))] = top(std::get<2>(all[k - 1]));
  }
  for (size_t i = 0; i < up.size(); ++i) up[i] = top(i);
  return up;
}

double cross(plan::Point a, plan::Point b, plan::Point p) {
  return static_cast<double>(b.x - a.x) * static_cast<double>(p.y - a.y) -
         static_cast<double>(b.y - a.y) * static_cast<double>(p.x - a.x);
}

// > 0: left of the leg of `line` nearest to p.
double side_of(const Line& line, plan::Point p) {
  double best = 1e300, side = 0;
  for (size_t i = 1; i < line.size(); ++i) {
    const plan::Point a = line[i - 1], b = line[i];
    const double dx = static_cast<double>(b.x - a.x), dy = static_cast<double>(b.y - a.y);
    const double px = static_cast<double>(p.x - a.x), py = static_cast<double>(p.y - a.y);
    const double t = std::clamp((px * dx + py * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    const double away = std::hypot(px - t * dx, py - t * dy);
    if (away < best) best = away, side = cross(a, b, p);
  }
  return side;
}

double length(const Line& line) {
  return Stations(line).length();
}

}  // namespace

TEST_CASE("a street alone: two sides five metres away, closed at both ends") {
  const auto made = sides({street("Mill Lane", line_of({{0, 0}, {80, 0}}))});
  REQUIRE(made.size() == 4);
  CHECK(named(made, "Mill Lane left 1")->line == line_of({{0, 5}, {80, 5}}));
  CHECK(named(made, "Mill Lane right 1")->line == line_of({{0, -5}, {80, -5}}));
  for (const DraftRoute& r : made) CHECK(r.street == "Mill Lane");
  const DraftRoute* left = named(made, "Mill Lane left 1");
  CHECK(left->surface == "paved footway");
  CHECK(left->surface_known == Known::assumed);
  CHECK(left->drops);
  for (const char* name : {"Mill Lane crossing 1", "Mill Lane crossing 2"}) {
    const DraftRoute* crossing = named(made, name);
    REQUIRE(crossing);
    CHECK(crossing->surface == "crossing");
    CHECK(crossing->crossing == "carriageway");
    CHECK_FALSE(crossing->drops);
    CHECK(length(crossing->line) == 10'000);
  }
}

TEST_CASE("each class has its half-width, and a surface where the rules give one") {
  SideRules rules;
  rules.surface[static_cast<size_t>(StreetClass::tertiary)] = "verge";
  for (const auto& [c, metres] : {std::pair(StreetClass::trunk, 8),
                                  {StreetClass::primary, 7},
                                  {StreetClass::tertiary, 6},
                                  {StreetClass::unclassified, 5}}) {
    const auto made = sides({street("A", line_of({{0, 0}, {80, 0}}), c)}, rules);
    REQUIRE(named(made, "A left 1"));
    CHECK(named(made, "A left 1")->line == line_of({{0, metres}, {80, metres}}));
    CHECK(named(made, "A left 1")->surface == (c == StreetClass::tertiary ? "verge" : "paved footway"));
  }
}

TEST_CASE("a long street is crossed evenly, no farther apart than the spacing") {
  const auto made = sides({street("A", line_of({{0, 0}, {450, 0}}))});
  CHECK(count(made, "crossing") == 6);  // 4 between, 2 at the ends
  CHECK(named(made, "A left 1")->line == line_of({{0, 5}, {90, 5}, {180, 5}, {270, 5}, {360, 5}, {450, 5}}));
  CHECK(named(made, "A right 1")->line.size() == 6);
  SideRules seldom;
  seldom.crossing_every = 0;
  CHECK(count(sides({street("A", line_of({{0, 0}, {450, 0}}))}, seldom), "crossing") == 2);
}

TEST_CASE("a crossroads: sides meet at four corners, four crossings join them") {
  const auto made = sides({street("A", line_of({{-80, 0}, {0, 0}, {80, 0}})),
                           street("B", line_of({{0, -80}, {0, 0}, {0, 80}}), StreetClass::primary)});
  CHECK(count(made, "left") == 4);
  CHECK(count(made, "right") == 4);
  CHECK(count(made, "crossing") == 8);  // 4 arms, 4 dead ends
  CHECK(count(made, "corner") == 0);
  CHECK(named(made, "A left 1")->line == line_of({{-80, 5}, {-7, 5}}));
  CHECK(named(made, "A right 2")->line == line_of({{7, -5}, {80, -5}}));
  CHECK(named(made, "B left 1")->line == line_of({{-7, -80}, {-7, -5}}));
}

TEST_CASE("a T: the side opposite goes straight on") {
  const auto made =
      sides({street("A", line_of({{-80, 0}, {0, 0}, {80, 0}})), street("B", line_of({{0, 0}, {0, 80}}))});
  CHECK(named(made, "A right 1")->line == line_of({{-80, -5}, {0, -5}}));
  CHECK(named(made, "A right 2")->line == line_of({{0, -5}, {80, -5}}));
  CHECK(named(made, "B left 1")->line == line_of({{-5, 5}, {-5, 80}}));
  CHECK(count(made, "crossing") == 6);
}

TEST_CASE("bends keep the distance, outside and inside; a name that changes changes no more") {
  const auto made = sides({street("A", line_of({{0, 0}, {40, 0}, {40, 40}}))});
  CHECK(named(made, "A left 1")->line == line_of({{0, 5}, {35, 5}, {35, 40}}));
  CHECK(named(made, "A right 1")->line == line_of({{0, -5}, {45, -5}, {45, 40}}));
  const auto two =
      sides({street("A", line_of({{0, 0}, {40, 0}})), street("B", line_of({{40, 40}, {40, 0}}))});
  CHECK(two.size() == 6);
  CHECK(named(two, "A left 1")->line == line_of({{0, 5}, {35, 5}}));
  CHECK(named(two, "B right 1")->line == line_of({{35, 40}, {35, 5}}));
}

TEST_CASE("a hairpin gets a bevel instead of a spike") {
  const auto made = sides({street("A", line_of({{0, 0}, {100, 0}, {0, 10}}))});
  for (const char* name : {"A left 1", "A right 1"})
    for (const plan::Point p : named(made, name)->line) CHECK(p.x <= 116'000);
  const auto two =
      sides({street("A", line_of({{0, 0}, {100, 0}})), street("B", line_of({{100, 0}, {0, 10}}))});
  CHECK(count(two, "corner") == 2);
}

TEST_CASE("a leg that an inner bend swallows vanishes; the side never runs back") {
  // Two bends of 45 degrees, two metres apart.
  const auto made = sides({street("A", line_of({{0, 0}, {40, 0}, {42, 2}, {42, 42}}))});
  CHECK(named(made, "A left 1")->line == line_of({{0, 5}, {37, 5}, {37, 42}}));
}

TEST_CASE("a ring has sides within and without, and a crossing between") {
  const auto made = sides({street("A", line_of({{0, 0}, {20, 0}, {20, 20}, {0, 20}, {0, 0}}))});
  REQUIRE(made.size() == 3);
  CHECK(count(made, "crossing") == 1);
  CHECK(named(made, "A right 1")->line.size() == 6);  // four corners, the first twice, and the crossing
  CHECK(named(made, "A right 1")->line.front() == plan::Point{-5'000, -5'000});
  CHECK(named(made, "A left 1")->line.front() == plan::Point{5'000, 5'000});
  const auto parts = components(made);
  CHECK(std::set(parts.begin(), parts.end()).size() == 1);
}

TEST_CASE("a path from the side: a joint to the near corners, a crossing to the far ones") {
  const auto made = sides({street("A", line_of({{-40, 0}, {0, 0}, {40, 0}})),
                           street("Path", line_of({{0, 0}, {0, 50}}), StreetClass::footway)});
  REQUIRE(named(made, "Path"));
  CHECK(named(made, "Path")->line == line_of({{0, 0}, {0, 50}}));
  REQUIRE(named(made, "A joint 1"));
  CHECK(named(made, "A joint 1")->line == line_of({{0, 0}, {0, 5}}));
  CHECK(named(made, "A joint 1")->crossing.empty());
  CHECK(count(made, "joint") == 1);
  CHECK(count(made, "crossing") == 3);  // two dead ends and the far side
  const auto parts = components(made);
  CHECK(std::set(parts.begin(), parts.end()).size() == 1);
}

TEST_CASE("a path across a street: nobody crosses the carriageway by two joints") {
  const auto made = sides({street("A", line_of({{-40, 0}, {0, 0}, {40, 0}})),
                           street("Path", line_of({{0, -50}, {0, 0}, {0, 50}}), StreetClass::footway)});
  CHECK(count(made, "joint") == 1);
  CHECK(count(made, "crossing") == 3);
}

TEST_CASE("lines without length, with a vertex twice or none at all do no harm") {
  SideRules rules;
  rules.crossing_every = 1;
  const auto made = sides({street("A", {}), street("B", {{5, 5}}), street("C", {{5, 5}, {5, 5}}),
                           street("D", {{5, 5}, {5, 5}, {90'000, 5}, {90'000, 5}, {5, 5}}),
                           street("E", {{90'000, 5}, {90'001, 5}}), street("F", {{90'001, 5}, {90'000, 5}})},
                          rules);
  for (const DraftRoute& r : made)
    for (size_t i = 1; i < r.line.size(); ++i)
      if (r.name != "C") CHECK(r.line[i] != r.line[i - 1]);
  CHECK(count(made, "left") > 0);
}

TEST_CASE("bridges, crossings and forbidden pieces stay single and meet both sides") {
  for (int kind = 0; kind < 3; ++kind) {
    DraftRoute middle = street("M", line_of({{40, 0}, {60, 0}}));
    if (kind == 0) middle.bridge = true, middle.level = 1;
    if (kind == 1) middle.crossing = "rail";
    if (kind == 2) middle.forbidden = "asked";
    const auto made =
        sides({street("A", line_of({{0, 0}, {40, 0}})), middle, street("B", line_of({{60, 0}, {99, 0}}))});
    REQUIRE(named(made, "M"));
    CHECK(named(made, "M")->line == middle.line);
    CHECK(count(made, "left") == 2);
    CHECK(named(made, "A joint 1"));
    CHECK(named(made, "B joint 1"));
    const auto parts = components(made);
    CHECK(std::set(parts.begin(), parts.end()).size() == 1);
  }
}

TEST_CASE("levels that pass each other stay apart") {
  auto above = street("B", line_of({{0, -40}, {0, 0}, {0, 40}}));
  above.level = 1;
  const auto made = sides({street("A", line_of({{-40, 0}, {0, 0}, {40, 0}})), above});
  CHECK(made.size() == 8);
  const auto parts = components(made);
  CHECK(std::set(parts.begin(), parts.end()).size() == 2);
}

TEST_CASE("heights lie beside the vertices") {
  auto route = street("A", line_of({{0, 0}, {40, 0}, {40, 40}}));
  route.heights = {1'000, 2'000, 5'000};
  for (const DraftRoute& r : sides({route})) CHECK(r.heights.size() == r.line.size());
  CHECK(named(sides({route}), "A left 1")->heights.front() == 1'000);
  CHECK(named(sides({route}), "A left 1")->heights.back() == 5'000);
}

namespace {

// A jittered grid with gaps, bends, diagonals, classes of all kinds, paths, bridges and loose ends.
std::vector<DraftRoute> town(int side, unsigned seed) {
  std::mt19937 dice(seed);
  const auto roll = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(dice); };
  std::vector<plan::Point> corners;
  for (int y = 0; y < side; ++y)
    for (int x = 0; x < side; ++x)
      corners.push_back({x * 90'000 + roll(-25'000, 25'000), y * 90'000 + roll(-25'000, 25'000)});
  std::vector<DraftRoute> routes;
  const auto connect = [&](int a, int b) {
    const plan::Point p = corners[static_cast<size_t>(a)], q = corners[static_cast<size_t>(b)];
    DraftRoute r = street("S" + std::to_string(routes.size()), {p, q}, static_cast<StreetClass>(roll(0, 16)));
    if (roll(0, 2) == 0)
      r.line.insert(r.line.begin() + 1,
                    {(p.x + q.x) / 2 + roll(-9'000, 9'000), (p.y + q.y) / 2 + roll(-9'000, 9'000)});
    r.bridge = roll(0, 19) == 0;
    r.id.number = static_cast<int64_t>(routes.size());
    if (roll(0, 1) == 0) std::reverse(r.line.begin(), r.line.end());
    routes.push_back(std::move(r));
  };
  for (int y = 0; y < side; ++y)
    for (int x = 0; x < side; ++x) {
      const int at = y * side + x;
      if (x + 1 < side && roll(0, 9) < 6) connect(at, at + 1);
      if (y + 1 < side && roll(0, 9) < 6) connect(at, at + side);
      if (x + 1 < side && y + 1 < side && roll(0, 9) == 0) connect(at, at + side + 1);
    }
  return routes;
}

}  // namespace

TEST_CASE("laws on random towns of some thousand streets") {
  for (const unsigned seed : {1U, 2U, 3U}) {
    const std::vector<DraftRoute> routes = town(50, seed);
    CAPTURE(seed);
    REQUIRE(routes.size() > 2'500);
    const auto made = sides(routes);

    // Streets are connected as their centre-lines are.
    const auto before = components(routes), after = components(made);
    std::map<size_t, std::set<size_t>> met;
    for (size_t i = 0; i < made.size(); ++i)
      met[before[static_cast<size_t>(made[i].id.number)]].insert(after[i]);
    const std::set<size_t> old(before.begin(), before.end()), now(after.begin(), after.end());
    CHECK(old.size() > 10);
    CHECK(now.size() == old.size());
    for (const auto& m : met) CHECK(m.second.size() == 1);

    std::set<std::string> names;
    for (const DraftRoute& r : made) {
      CAPTURE(r.name);
      CHECK(names.insert(r.name).second);
      REQUIRE(r.line.size() > 1);
      for (size_t i = 1; i < r.line.size(); ++i) CHECK(r.line[i] != r.line[i - 1]);
      const DraftRoute& centre = routes[static_cast<size_t>(r.id.number)];
      const double half =
          static_cast<double>(SideRules{}.half_width[static_cast<size_t>(centre.street_class)]);
      const bool left = r.name.find(" left ") != std::string::npos,
                 right = r.name.find(" right ") != std::string::npos;
      if (!left && !right) continue;
      CHECK(length(r.line) <= length(centre.line) + 2 * std::acos(-1) * half + 2 * 3 * 8'000);
      for (size_t i = 1; i < r.line.size(); ++i) {
        const plan::Point middle{(r.line[i].x + r.line[i - 1].x) / 2, (r.line[i].y + r.line[i - 1].y) / 2};
        CHECK((side_of(centre.line, middle) > 0) == left);
      }
    }

    auto shuffled = routes;
    std::shuffle(shuffled.begin(), shuffled.end(), std::mt19937(seed));
    const auto rows = [](const std::vector<DraftRoute>& all) {
      std::vector<std::tuple<int64_t, Line, std::string>> out;
      for (const DraftRoute& r : all) out.emplace_back(r.id.number, r.line, r.crossing);
      std::sort(out.begin(), out.end());
      return out;
    };
    CHECK(rows(made) == rows(sides(shuffled)));
  }
}
