#include <doctest/doctest.h>

#include <set>

#include "unit/fibre/random_trees.h"
#include "unit/fibre/trace.h"

using namespace plan;
using namespace hand_made;

TEST_CASE("every planned dwelling has one path and nothing is used twice: random trees, all architectures") {
  size_t dwellings = 0, throughs = 0, cascades = 0, buildings = 0;
  for (int a = 0; a < static_cast<int>(Architecture::count_); ++a)
    for (uint32_t seed = 1; seed <= 30; ++seed) {
      CAPTURE(a);
      CAPTURE(seed);
      const Estate e = RandomTree(seed * 977 + static_cast<uint32_t>(a), static_cast<Architecture>(a)).make();
      const Fibre fibre = e.make();
      const std::vector<std::string> faults = trace::faults(e.input(), fibre);
      const std::string first = faults.empty() ? "" : faults.front();
      CHECK_MESSAGE(faults.empty(), first);
      CHECK(fibre == e.make());
      dwellings += fibre.dwellings.size();
      throughs += fibre.throughs.values();
      for (const Splitter& s : fibre.splitters) cascades += s.upstream.valid() ? 1 : 0;
      for (const Dwelling& d : fibre.dwellings) buildings += d.pon.valid() && d.fibre == 0 ? 1 : 0;
    }
  // The trees are worth checking: all shapes are there in numbers.
  CHECK(dwellings > 10000);
  CHECK(throughs > 1000);
  CHECK(cascades > 1000);
  CHECK(buildings > 1000);
}

TEST_CASE("the tracer sees planted faults") {
  const Estate e = RandomTree(5, Architecture::cabinet_branch).make();
  const Fibre good = e.make();
  REQUIRE(trace::faults(e.input(), good).empty());
  REQUIRE(good.splitters.size() > 3);

  Fibre fibre = good;
  fibre.dwellings[DwellingId(1u)].port = fibre.dwellings[DwellingId(0u)].port;
  fibre.dwellings[DwellingId(1u)].splitter = fibre.dwellings[DwellingId(0u)].splitter;
  CHECK_FALSE(trace::faults(e.input(), fibre).empty());

  fibre = good;
  for (Splitter& s : fibre.splitters) s.feed_fibre = s.feed_fibre > 0 ? 1 : 0;
  CHECK_FALSE(trace::faults(e.input(), fibre).empty());

  fibre = good;
  fibre.dwellings[DwellingId(0u)].pon = PonId(fibre.dwellings[DwellingId(0u)].pon.value + 1);
  CHECK_FALSE(trace::faults(e.input(), fibre).empty());

  fibre = good;
  fibre.pons[PonId(0u)].port += 1;
  CHECK_FALSE(trace::faults(e.input(), fibre).empty());
}

TEST_CASE("the fewest splitters: ceil(dwellings / (ratio x fill)) at a place that serves dwellings") {
  for (uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const Estate e = RandomTree(seed, Architecture::cabinet).make();
    const Fibre fibre = e.make();
    Table<StationId, int> served(e.layout.stations.size());
    for (const Dwelling& d : fibre.dwellings)
      if (d.link.valid()) served[e.layout.links[d.link].from] += 1;
    for (StationId s : e.layout.stations.ids()) {
      const double each = std::max(1.0, e.layout_rules.split[0].ratio * e.rules.port_fill);
      const int fewest = static_cast<int>(std::ceil(served[s] / each - 1e-9));
      CHECK(fibre.stations[s].splitters_ultimate == fewest);
      CHECK(fibre.stations[s].splitters_day_one <= fewest);
    }
  }
}
