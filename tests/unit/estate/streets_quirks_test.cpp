// What real maps do to a reader of streets, one drawing a quirk.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <map>
#include <random>
#include <set>

#include "estate/streets.h"
#include "unit/estate/streets_drawn.h"

using namespace withy;

namespace {

// The graph by the plainest rule, from what was drawn: every place is a node that ends a line or is used
// twice on one level; components by flooding.
struct Plain {
  size_t nodes = 0, edges = 0, components = 0;
};
Plain plain_graph(const std::vector<DraftRoute>& routes) {
  std::map<std::pair<plan::Point, int>, int> uses;
  std::set<plan::Point> nodes;
  for (const DraftRoute& r : routes) {
    for (const plan::Point p : r.line)
      if (++uses[{p, r.level}] == 2) nodes.insert(p);
    nodes.insert(r.line.front());
    nodes.insert(r.line.back());
  }
  std::map<plan::Point, std::set<plan::Point>> beside;
  Plain plain;
  for (const DraftRoute& r : routes) {
    plan::Point from = r.line.front();
    for (size_t i = 1; i < r.line.size(); ++i) {
      const plan::Point p = r.line[i];
      const bool end = i + 1 == r.line.size();
      bool ends_here = false;  // some line of any level
      for (const DraftRoute& other : routes) ends_here |= other.line.front() == p || other.line.back() == p;
      if (!end && !ends_here && uses[{p, r.level}] < 2) continue;
      ++plain.edges;
      beside[from].insert(p), beside[p].insert(from);
      from = p;
    }
  }
  plain.nodes = beside.size();
  std::set<plan::Point> seen;
  for (const auto& node : beside) {
    if (!seen.insert(node.first).second) continue;
    ++plain.components;
    std::vector<plan::Point> open{node.first};
    while (!open.empty()) {
      const plan::Point at = open.back();
      open.pop_back();
      for (const plan::Point next : beside[at])
        if (seen.insert(next).second) open.push_back(next);
    }
  }
  return plain;
}

}  // namespace

TEST_CASE("islands stay: every component of a map is kept") {
  Drawing d(true);
  for (int i = 0; i < 5; ++i) d.street({{i * 1000.0, 0}, {i * 1000.0 + 50, 0}});
  CHECK(d.counts().components == 5);
  CHECK(d.counts().nodes == 10);
}

TEST_CASE("edges of a millimetre and of eight kilometres stay one edge each") {
  Drawing d(true);
  d.street({{0, 0}, {0.001, 0}});
  d.street({{0.001, 0}, {7916, 0}});
  const Draft made = d.draft();
  CHECK(street_counts(made.routes).edges == 2);
  CHECK(made.routes[1].line.size() == 2);
  CHECK(street_counts(made.routes).metres == doctest::Approx(7916).epsilon(1e-9));
}

TEST_CASE("lines of a source with shared vertices that are drawn twice") {
  Drawing d(true);
  d.street({{0, 0}, {50, 0}, {100, 0}}, StreetClass::footway);
  d.street({{100, 0}, {50, 0}, {100, 0}}, StreetClass::path);  // out and back: another line
  d.street({{100, 0}, {50, 0}, {0, 0}}, StreetClass::residential);
  d.street({{0, 0}, {50, 0}, {100, 0}}, StreetClass::residential);
  MapStreet& above = d.street({{0, 0}, {50, 0}, {100, 0}});
  above.bridge = true, above.level = 1;
  const Draft made = d.draft();
  CHECK(told(made, "street line drawn twice") == 2);
  CHECK(named(made, "way 1") == nullptr);  // the greater road is kept, then the smaller number
  CHECK(named(made, "way 3") != nullptr);
  CHECK(named(made, "way 4") == nullptr);
  CHECK(named(made, "way 5") != nullptr);
}

TEST_CASE("crossings without a vertex are told where vertices are shared, but for bridges and tunnels") {
  Drawing d(true);
  d.street({{0, 0}, {100, 0}});
  d.street({{50, -40}, {50, 40}});
  d.street({{20, -40}, {20, 40}}).bridge = true;
  MapStreet& tunnel = d.street({{80, -40}, {80, 40}});
  tunnel.tunnel = true, tunnel.level = -1;
  const Draft made = d.draft();
  CHECK(street_counts(made.routes).components == 4);
  REQUIRE(told(made, "streets cross without a vertex: left apart") == 1);
  CHECK(made.remarks[0].at == MapPlace{50, 0});
  CHECK(made.remarks[0].id.number == 1);
  CHECK(made.remarks[0].detail == "with way 2");
}

TEST_CASE("a bridge meets the streets at its ends and nothing in between") {
  Drawing d(true);
  d.street({{0, 0}, {20, 0}});
  MapStreet& bridge = d.street({{20, 0}, {50, 0}, {80, 0}});
  bridge.bridge = true, bridge.level = 1;
  d.street({{80, 0}, {100, 0}});
  d.street({{50, -40}, {50, 0}, {50, 40}});
  MapStreet& subway = d.street({{50, -40}, {50, 0}, {50, 40}}, StreetClass::footway);
  subway.tunnel = true, subway.level = -1;  // of the same line, below
  CHECK(d.counts().components == 2);
  CHECK(d.counts().bridges == 1);
  CHECK(d.counts().tunnels == 1);
}

TEST_CASE("an end that lies on another line is joined to it without being moved") {
  Drawing d(false);
  d.street({{0, 0}, {100, 0}});
  d.street({{40, 0}, {40, 30}});               // exactly on it
  d.street({{70, 30}, {70, 0.02}, {75, 30}});  // a bend 2 cm off it
  d.street({{20, 30}, {20, 0.3}, {25, 30}});   // a bend 30 cm off it meets nothing
  const Draft made = d.draft();
  CHECK(street_counts(made.routes).components == 2);
  CHECK(told(made, "street meets another without a vertex") == 2);
  CHECK(told(made, "loose end moved to the next street") == 0);
}

TEST_CASE("a line does not draw its own end") {
  Drawing d(false);
  d.street({{0, 0}, {50, 0}, {50, 30}, {0.5, 0.5}});  // closes on its start but for 0.7 m
  d.street({{200, 0}, {250, 0}, {250, 0.6}});         // a spur of 0.6 m
  const Draft made = d.draft();
  CHECK(street_counts(made.routes).loops == 0);
  CHECK(told(made, "loose end moved to the next street") == 0);
}

TEST_CASE("no end moves farther than twice the tolerance, however many stand in a row") {
  Drawing d(false);
  for (int i = 0; i < 50; ++i) d.street({{i * 0.9, 0}, {i * 0.9, 30.0 + i}});
  const Draft made = d.draft();
  for (size_t i = 0; i < made.routes.size(); ++i) {
    const plan::Point from = Plane().forward(d.map.streets[i].line.front());
    CHECK(plan::in_metres(plan::distance(made.routes[i].line.front(), from)) <= 2.001);
  }
  CHECK(told(made, "loose end moved to the next street") > 20);
}

TEST_CASE("municipal lines of other levels are not noded") {
  Drawing d(false);
  d.street({{0, 0}, {100, 0}});
  MapStreet& bridge = d.street({{50, -40}, {50, 40}});
  bridge.bridge = true, bridge.level = 1;
  CHECK(d.counts().components == 2);
  CHECK(told(d.draft(), "crossing without a vertex") == 0);
}

TEST_CASE("municipal lines shorter than a centimetre go with a remark") {
  Drawing d(false);
  d.street({{0, 0}, {0.003, 0}});
  d.street({{5, 0}, {50, 0}});
  const Draft made = d.draft();
  CHECK(made.routes.size() == 1);
  CHECK(told(made, "street shorter than the tolerance") == 1);
}

TEST_CASE("vertices that lie nowhere are left out") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const bool shared : {true, false}) {
    Drawing d(shared);
    d.street({{0, 0}, {nan, 0}, {100, 0}, {1e308, 3}, {100, std::numeric_limits<double>::infinity()}});
    d.street({{nan, nan}, {nan, 1}});
    const Draft made = d.draft();
    REQUIRE(made.routes.size() == 1);
    CHECK(made.routes[0].line == std::vector<plan::Point>{{0, 0}, {100'000, 0}});
    CHECK(told(made, "vertex that lies nowhere") == 5);
    CHECK(told(made, "street without length") == 1);
  }
  Map map;
  map.sources.resize(1);
  map.streets.resize(1);
  map.streets[0].line = {{nan, 10}, {13.2, 53.5}, {1e308, 0}, {13.3, 53.5}, {13.3, 53.6}};
  CHECK(plane_of(map).name() == "EPSG:32633");
}

TEST_CASE("a stray line across the globe and ten thousand lines through one place cost little") {
  Drawing far(false);
  std::mt19937 draw(3);
  std::uniform_real_distribution<double> coordinate(0, 20'000);
  far.street({{0, 0}, {9e8, 9e8}});
  for (int i = 0; i < 60'000; ++i) {
    const double x = coordinate(draw), y = coordinate(draw);
    far.street({{x, y}, {x + 40, y + 10}});
  }
  CHECK(far.draft().routes.size() == 60'001);
  Drawing star(false);
  for (int i = 0; i < 10'000; ++i) star.street({{0, 0}, {500 * std::cos(i / 1e3), 500 * std::sin(i / 1e3)}});
  CHECK(street_counts(star.draft().routes).components == 1);
}

TEST_CASE("beyond the limit of crossings lines stay as they are, and that is told") {
  Drawing d(false);
  for (int i = 0; i < 30; ++i) {
    d.street({{i * 10.0, -10}, {i * 10.0, 400}});
    d.street({{-10, i * 10.0}, {400, i * 10.0}});
  }
  StreetRules rules;
  CHECK(told(d.draft(rules), "crossing without a vertex") == 900);
  CHECK(told(d.draft(rules), "too many crossings to be noded") == 0);
  rules.noding.most_meetings = 100;
  CHECK(told(d.draft(rules), "too many crossings to be noded") == 1);
}

TEST_CASE("who may pass: permission is flagged, and what it is for a trade vehicle is not") {
  Drawing d(true);
  int row = 0;
  for (const char* access : {"private", "no", "customers", "delivery", "military", "permit"})
    d.street({{0, row * 9.0}, {50, row * 9.0}}).access = access, ++row;
  for (const char* access : {"", "yes", "permissive", "destination", "agricultural", "forestry"})
    d.street({{0, row * 9.0}, {50, row * 9.0}}).access = access, ++row;
  const Draft made = d.draft();
  for (size_t i = 0; i < made.routes.size(); ++i) CHECK(made.routes[i].restricted == (i < 6));
}

TEST_CASE("squares are taken by their outline, with a remark") {
  Drawing d(true);
  d.street({{0, 0}, {30, 0}, {30, 30}, {0, 30}, {0, 0}}, StreetClass::pedestrian).area = true;
  d.street({{30, 30}, {90, 30}});
  const Draft made = d.draft();
  CHECK(told(made, "square taken by its outline") == 1);
  CHECK(street_counts(made.routes).components == 1);
  CHECK(street_counts(made.routes).parallel == 1);
}

TEST_CASE("existing ducts are routes that no drop leaves, and no part of the street graph") {
  Drawing d(true);
  d.street({{0, 0}, {100, 0}});
  MapDuct duct;
  duct.id = {0, MapKind::way, 77};
  duct.line = {{0, 1}, {100, 1}};
  duct.state = DuctState::blocked;
  d.map.ducts = {duct, duct};
  d.map.ducts[1].line = {{3, 3}, {3, 3}};
  const Draft made = d.draft();
  REQUIRE(made.routes.size() == 2);
  CHECK(made.routes[1].duct == &d.map.ducts[0]);
  CHECK(made.routes[1].surface == "existing duct");
  CHECK_FALSE(made.routes[1].drops);
  CHECK(told(made, "existing duct without length") == 1);
  CHECK(street_counts(made.routes).edges == 1);
}

TEST_CASE("street graphs agree with the plainest count, on any order and over all levels") {
  std::mt19937 draw(23);
  std::uniform_int_distribution<int> place(0, 6), size(2, 5), kind(0, 9);
  for (int round = 0; round < 40; ++round) {
    Drawing d(true);
    for (int i = 0; i < 25; ++i) {
      MapPath line;
      const int vertices = size(draw);
      for (int k = 0; k < vertices; ++k) {
        const double x = place(draw) * 10.0, y = place(draw) * 10.0;
        line.push_back({x, y});
      }
      MapStreet& s = d.street(std::move(line));
      if (kind(draw) == 0) s.bridge = true, s.level = 1;
    }
    const Draft made = d.draft();
    const StreetCounts c = street_counts(made.routes);
    const Plain plain = plain_graph(made.routes);
    CHECK(c.nodes == plain.nodes);
    CHECK(c.edges == plain.edges);
    CHECK(c.components == plain.components);
    CHECK(c.edges + c.components >= c.nodes);  // independent cycles: E - N + c
    double metres = 0;
    for (const DraftRoute& r : made.routes) metres += plan::in_metres(plan::polyline_length(r.line));
    CHECK(c.metres == doctest::Approx(metres));
    std::shuffle(d.map.streets.begin(), d.map.streets.end(), draw);
    CHECK(lines_of(d.draft()) == lines_of(made));
  }
}
