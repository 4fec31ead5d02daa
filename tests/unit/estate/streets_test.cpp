// Streets of drawn maps: what is cleaned, what is noded, what stays apart.
#include "estate/streets.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <random>
#include <string>

#include "estate/heights.h"
#include "estate/street_rules.h"
#include "unit/estate/streets_drawn.h"

using namespace withy;

TEST_CASE("shared vertices join, crossings without one do not") {
  Drawing d(true);
  d.street({{0, 0}, {50, 0}, {100, 0}});
  d.street({{50, -40}, {50, 0}, {50, 40}});
  d.street({{20, -40}, {20, 40}});
  const StreetCounts c = d.counts();
  CHECK(c.nodes == 7);
  CHECK(c.edges == 5);
  CHECK(c.components == 2);
}

TEST_CASE("a bridge with a vertex above a street's vertex does not meet it") {
  Drawing d(true);
  d.street({{0, 0}, {50, 0}, {100, 0}});
  MapStreet& bridge = d.street({{50, -40}, {50, 0}, {50, 40}});
  CHECK(d.counts().components == 1);
  bridge.bridge = true, bridge.level = 1;
  CHECK(d.counts().components == 2);
  const Draft made = d.draft();
  CHECK_FALSE(made.routes[1].drops);
  CHECK(made.routes[0].drops);
}

TEST_CASE("self-loops, parallel and tiny edges stay, repeated vertices and lines without length go") {
  Drawing d(true);
  d.street({{0, 0}, {30, 0}, {30, 30}, {0, 0}});
  d.street({{0, 0}, {-40, 0}});
  d.street({{0, 0}, {-20, 10}, {-40, 0}});
  d.street({{-40, 0}, {-40, 0}, {-40.004, 0}});
  d.street({{5, 5}, {5, 5}});
  d.street({{7, 7}});
  const Draft made = d.draft();
  const StreetCounts c = street_counts(made.routes);
  CHECK(c.loops == 1);
  CHECK(c.parallel == 1);
  CHECK(c.edges == 4);
  CHECK(told(made, "street without length") == 2);
  CHECK(named(made, "way 4")->line.size() == 2);
}

TEST_CASE("municipal lines: crossings noded, loose ends moved, duplicates dropped") {
  Drawing d(false);
  d.street({{0, 0}, {100, 0}});
  d.street({{50, -40}, {50, 40}});     // crosses without a vertex
  d.street({{80, 0.6}, {80, 60}});     // ends 0.6 m short
  d.street({{100.5, 0.5}, {160, 0}});  // ends beside an end
  d.street({{20, 2.0}, {20, 50}});     // too far off
  d.street({{100, 0}, {0, 0}});        // drawn twice, the other way
  const Draft made = d.draft();
  const StreetCounts c = street_counts(made.routes);
  CHECK(c.components == 2);
  CHECK(c.nodes == 4 + 1 + 2 + 1 + 2);
  CHECK(told(made, "crossing without a vertex") == 1);
  CHECK(told(made, "loose end moved to the next street") == 2);
  CHECK(told(made, "street line drawn twice") == 1);
  const auto moved = std::find_if(made.remarks.begin(), made.remarks.end(), [](const MapRemark& r) {
    return r.what == "loose end moved to the next street";
  });
  CHECK(moved->detail == "by 600 mm; tolerance 1000 mm");
}

TEST_CASE("ends within the tolerance of each other end up in one place") {
  Drawing d(false);
  d.street({{0, 0}, {50, 0}});
  d.street({{50.6, 0}, {100, 0}});
  d.street({{50.3, 0.5}, {50, 60}});
  CHECK(d.counts().components == 1);
  CHECK(d.counts().nodes == 4);
}

TEST_CASE("the order of the map changes nothing but names given twice") {
  std::mt19937 draw(7);
  std::uniform_real_distribution<double> coordinate(0, 400);
  Drawing d(false);
  for (int i = 0; i < 120; ++i) {
    const double x = coordinate(draw), y = coordinate(draw);
    d.street({{x, y}, {x + coordinate(draw) / 4, y + coordinate(draw) / 4}});
  }
  const auto before = lines_of(d.draft());
  for (int i = 0; i < 5; ++i) {
    std::shuffle(d.map.streets.begin(), d.map.streets.end(), draw);
    CHECK(lines_of(d.draft()) == before);
  }
}

TEST_CASE("every proper crossing of noded lines is a vertex of both") {
  std::mt19937 draw(11);
  std::uniform_real_distribution<double> coordinate(0, 300);
  Drawing d(false);
  for (int i = 0; i < 60; ++i)
    d.street({{coordinate(draw), coordinate(draw)}, {coordinate(draw), coordinate(draw)}});
  const Draft made = d.draft();
  // Tried leg by leg: two legs that share no vertex may touch only within the key of 1 cm.
  const auto side = [](plan::Point a, plan::Point b, plan::Point p) {
    const double length = plan::in_metres(plan::distance(a, b)) * 1000;
    return (static_cast<double>(b.x - a.x) * static_cast<double>(p.y - a.y) -
            static_cast<double>(b.y - a.y) * static_cast<double>(p.x - a.x)) /
           std::max(length, 1.0);  // mm off the line
  };
  uint64_t crossing = 0;
  for (size_t i = 0; i < made.routes.size(); ++i)
    for (size_t j = i + 1; j < made.routes.size(); ++j)
      for (size_t k = 1; k < made.routes[i].line.size(); ++k)
        for (size_t l = 1; l < made.routes[j].line.size(); ++l) {
          const plan::Point a = made.routes[i].line[k - 1], b = made.routes[i].line[k];
          const plan::Point p = made.routes[j].line[l - 1], q = made.routes[j].line[l];
          const auto apart = [](double x, double y) {
            return x * y < 0 && std::min(std::abs(x), std::abs(y)) > 20;
          };
          crossing += apart(side(a, b, p), side(a, b, q)) && apart(side(p, q, a), side(p, q, b)) ? 1 : 0;
        }
  CHECK(crossing == 0);
  uint64_t pairs = 0;  // of the lines as drawn, each of one leg
  for (size_t i = 0; i < d.map.streets.size(); ++i)
    for (size_t j = i + 1; j < d.map.streets.size(); ++j) {
      const auto end = [&](size_t s, size_t e) { return Plane().forward(d.map.streets[s].line[e]); };
      pairs += side(end(i, 0), end(i, 1), end(j, 0)) * side(end(i, 0), end(i, 1), end(j, 1)) < 0 &&
                       side(end(j, 0), end(j, 1), end(i, 0)) * side(end(j, 0), end(j, 1), end(i, 1)) < 0
                   ? 1
                   : 0;
    }
  CHECK(told(made, "crossing without a vertex") == pairs);
}

TEST_CASE("names are unique") {
  Drawing d(true);
  d.street({{0, 0}, {1, 0}}, StreetClass::residential, " Mill Lane ");
  d.street({{2, 0}, {3, 0}}, StreetClass::residential, "Mill Lane");
  d.street({{4, 0}, {5, 0}}, StreetClass::residential, "Mill Lane 1");
  d.street({{6, 0}, {7, 0}}, StreetClass::residential, "   ");
  const Draft made = d.draft();
  CHECK(made.routes[0].name == "Mill Lane 2");
  CHECK(made.routes[1].name == "Mill Lane 3");
  CHECK(made.routes[2].name == "Mill Lane 1");
  CHECK(made.routes[3].name == "way 4");
  CHECK(made.routes[0].street == "Mill Lane");
}

TEST_CASE("surfaces by class, by what the map states, and how well they are known") {
  Drawing d(true);
  d.street({{0, 0}, {1, 0}});
  d.street({{0, 1}, {1, 1}}).surface = "asphalt";
  d.street({{0, 2}, {1, 2}}, StreetClass::track).surface = "grass";
  d.street({{0, 3}, {1, 3}}, StreetClass::path);
  d.street({{0, 4}, {1, 4}}, StreetClass::steps);
  d.street({{0, 5}, {1, 5}}, StreetClass::service).access = "private";
  const Draft made = d.draft();
  CHECK(made.routes[0].surface == "paved footway");
  CHECK(made.routes[0].surface_known == Known::assumed);
  CHECK(made.routes[1].surface_known == Known::mapped);
  CHECK(made.routes[2].surface == "verge");
  CHECK(made.routes[3].surface == "unpaved track");
  CHECK_FALSE(made.routes[4].drops);
  CHECK(made.routes[5].restricted);
  StreetRules roads;
  roads.roads_only = true;
  CHECK(d.draft(roads).routes.size() == 3);
}

TEST_CASE("surfaces of the table are surfaces that ship") {
  std::ifstream file(WITHY_SOURCE "/libplan/scenario/data/rules.yaml");
  const std::string rules{std::istreambuf_iterator<char>(file), {}};
  const StreetTable table = street_table();
  const std::string_view words[] = {"", "asphalt", "gravel", "grass", "lava"};
  for (size_t i = 0; i < table.classes.size(); ++i)
    for (const std::string_view word : words) {
      const StreetClass c = static_cast<StreetClass>(i);
      const std::string_view stated = table.surface_of(word, c);
      CHECK(stated.empty() == (word.empty() || word == "lava"));
      const std::string surface{stated.empty() ? std::string_view(table[c].surface) : stated};
      CHECK_MESSAGE(rules.find("\n  " + surface + ": {usual method") != std::string::npos, surface);
    }
}

TEST_CASE("the page for users states the defaults of every class") {
  std::ifstream file(WITHY_SOURCE "/docs/estate.md");
  const std::string page{std::istreambuf_iterator<char>(file), {}};
  const StreetTable table = street_table();
  for (size_t i = 0; i < table.classes.size(); ++i) {
    const StreetClass c = static_cast<StreetClass>(i);
    const std::string row = "| " + std::string(class_name(c)) + " | " + table[c].surface + " | " +
                            (table[c].drops ? "yes" : "no") + " |";
    CHECK_MESSAGE(page.find(row) != std::string::npos, row);
  }
}

TEST_CASE("heights: all vertices or none, and evenly across a bridge") {
  Drawing d(true);
  d.street({{0, 0}, {10, 0}, {20, 0}});
  d.street({{20, 0}, {60, 0}, {100, 0}}).bridge = true;
  d.street({{100, 0}, {110, 0}, {120, 0}});
  Draft made = d.draft();
  const HeightCounts counts = lay_heights(made, Plane(), [](const std::vector<MapPlace>& places) {
    std::vector<double> heights;
    for (const MapPlace& p : places)
      heights.push_back(p.x == 120 ? no_height : p.x == 60 ? 80 : 100 + p.x / 10);
    return heights;
  });
  Draft wild = d.draft();
  const auto absurd = [](const std::vector<MapPlace>& places) {
    std::vector<double> heights(places.size(), 1e30);
    heights[0] = std::nan("");
    return heights;
  };
  CHECK(lay_heights(wild, Plane(), absurd).without == 3);
  CHECK(lay_heights(wild, Plane(), [](const auto&) { return std::vector<double>{}; }).without == 3);
  CHECK(made.routes[0].heights == std::vector<int32_t>{100000, 101000, 102000});
  CHECK(made.routes[1].heights == std::vector<int32_t>{102000, 106000, 110000});
  CHECK(made.routes[2].heights.empty());
  CHECK(counts.routes == 2);
  CHECK(counts.without == 1);
}
