// Premises of random maps against a brute-force check, in any order, and of hostile ones in bounded time.
#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include "unit/estate/premises_brute.h"
#include "unit/estate/premises_drawn.h"

using namespace withy;
using drawn::at;
using drawn::box;

namespace {

struct Dice {
  uint64_t state;
  double metres(double most) { return static_cast<double>(whole(1'000'000)) / 1e6 * most; }
  uint64_t whole(uint64_t most) {
    state = state * 6364136223846793005u + 1442695040888963407u;
    return (state >> 33) % most;
  }
};

// Streets of few names, bent and crossing; far north, as in a zone's metres.
drawn::Estate random_estate(uint64_t seed, bool buildings) {
  static const char* const names[] = {"", "Mill Lane", "Rua Três", "Hauptstraße", "Back Lane"};
  static const char* const written[] = {"", "MILL LANE", "R. Tres", "Hauptstr.", "Nowhere"};
  Dice dice{seed};
  drawn::Estate e;
  const double north = 7.8e6;
  for (int i = 0; i < 60; ++i) {
    double x = dice.metres(1000), y = dice.metres(1000);
    MapPath line;
    for (int j = 0; j < 4; ++j) {
      line.push_back({x, north + y});
      x += dice.metres(120) - 60, y += dice.metres(120) - 60;
    }
    e.route(line, names[dice.whole(5)]).drops = dice.whole(8) > 0;
  }
  for (int i = 0; i < 400; ++i) {
    const double x = dice.metres(1000), y = north + dice.metres(1000);
    const char* street = written[dice.whole(5)];
    if (buildings)
      e.building(box(x, y, x + 6 + dice.metres(20), y + 6 + dice.metres(20))).street = street;
    else
      e.address(x, y, street, std::to_string(i));
  }
  return e;
}

bool is_remarked(const MadePremises& made, MapId id) {
  return std::any_of(made.remarks.begin(), made.remarks.end(),
                     [&](const MapRemark& r) { return r.id == id && r.what.substr(0, 4) == "drop"; });
}

}  // namespace

TEST_CASE("address points of random maps agree with the brute-force check, all of them") {
  for (uint64_t seed = 1; seed <= 4; ++seed) {
    const drawn::Estate e = random_estate(seed, false);
    const MadePremises made = e.made();
    CHECK(made.premises.size() == 400);
    CHECK(made.counts.moved_to_own_street > 10);
    for (const DraftPremises& p : made.premises) {
      INFO(p.name);
      CHECK(brute::fault_of(p, e.routes, e.rules) == "");
    }
  }
}

TEST_CASE("buildings of random maps agree, all of them") {
  for (uint64_t seed = 11; seed <= 14; ++seed) {
    drawn::Estate e = random_estate(seed, true);
    e.rules.inside_another = plan::metres(1000);  // nothing is in the way
    const MadePremises made = e.made();
    CHECK(made.premises.size() == 400);
    for (const DraftPremises& p : made.premises) {
      INFO(p.name);
      CHECK(brute::fault_of(p, e.routes, e.rules, 18'400) == "");
    }
  }
}

TEST_CASE("no drop runs through another building unless it is flagged") {
  for (uint64_t seed = 21; seed <= 24; ++seed) {
    const drawn::Estate e = random_estate(seed, true);
    const MadePremises made = e.made();
    CHECK(made.counts.moved_round > 0);
    for (const DraftPremises& p : made.premises) {
      if (is_remarked(made, p.id)) continue;
      plan::Point from = p.drop_from.value_or(p.at);
      if (!p.drop_from) {
        double least = 1e300;
        for (const DraftRoute& r : e.routes)
          for (size_t j = 0; r.drops && j + 1 < r.line.size(); ++j)
            if (const double here = brute::to_leg(r.line[j], r.line[j + 1], p.at); here < least)
              least = here, from = brute::foot(r.line[j], r.line[j + 1], p.at);
      }
      // Places along the drop, 0.1 m apart: at most eleven in any other box (boxes are convex).
      const double length =
          std::hypot(static_cast<double>(p.at.x - from.x), static_cast<double>(p.at.y - from.y));
      const int steps = static_cast<int>(length / 100);
      for (const MapBuilding& b : e.map.buildings) {
        if (b.id == p.id) continue;
        const MapPath& ring = b.parts[0].rings[0];
        int inside = 0;
        for (int i = 0; i <= steps; ++i) {
          const double x =
              (static_cast<double>(from.x) + static_cast<double>(p.at.x - from.x) * i / steps) / 1000;
          const double y =
              (static_cast<double>(from.y) + static_cast<double>(p.at.y - from.y) * i / steps) / 1000;
          inside += x > ring[0].x && x < ring[2].x && y > ring[0].y && y < ring[2].y;
        }
        INFO(p.name, " through way ", b.id.number);
        CHECK(inside <= 12);
      }
    }
  }
}

TEST_CASE("the order of buildings, points and streets changes nothing but which of equals is first") {
  drawn::Estate e = random_estate(31, true);
  for (int i = 0; i < 100; ++i) e.address(5000 + 3 * i, 7.8e6, "Mill Lane", "0");
  const MadePremises before = e.made();
  std::reverse(e.map.buildings.begin(), e.map.buildings.end());
  std::reverse(e.map.addresses.begin(), e.map.addresses.end());
  std::reverse(e.routes.begin(), e.routes.end());
  const MadePremises after = e.made();
  REQUIRE(before.premises.size() == after.premises.size());
  for (size_t i = 0; i < before.premises.size(); ++i) {
    const DraftPremises &a = before.premises[i], &b = after.premises[i];
    CHECK(a.name == b.name);
    CHECK(a.id == b.id);
    CHECK(a.at == b.at);
    CHECK(a.drop_from == b.drop_from);
    CHECK(a.boundary == b.boundary);
  }
}

TEST_CASE("a map all on one spot costs no more than one spread out") {
  drawn::Estate e;
  for (int i = 0; i < 3000; ++i) e.route({{0, 0.001 * i}, {100, 0.001 * i}}, "Mill Lane");
  for (int i = 0; i < 3000; ++i) {
    e.building(box(10, 10 + 0.001 * i, 30, 30 + 0.002 * i));
    e.plot(box(5, 5 + 0.001 * i, 40, 40));
  }
  for (int i = 0; i < 200'000; ++i) e.address(60, 10, "Mill Lane", "1");
  const auto start = std::chrono::steady_clock::now();
  const MadePremises made = e.made();
  CHECK(made.premises.size() == 3001);
  CHECK(made.counts.merged_points == 199'999);
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));
}
