#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "basis/basis.h"
#include "scenario_text.h"

using namespace plan;

namespace {

constexpr std::string_view one_lane = R"(
scenario: One Lane
start: 2027-03-01
estate:
  premises:
    - {name: A, at: [500, 10]}
    - {name: B, at: [900, -10], dwellings: 6}
  routes: [{name: lane, line: [[0, 0], [60000, 0]], surface: verge}]
headends: [{name: Exchange, at: [0, -5]}]
)";

}  // namespace

TEST_CASE("the shipped catalogue and rules make a basis without findings") {
  const Scenario s = scenario_from(std::string(one_lane) + "blowing: {length share: 100 %}\n");
  const Network n = make_network(*s.demand, *s.site, Run{});
  const Basis b = make_basis(s, n, Run{});
  CHECK(n.findings.empty());
  CHECK(b.findings.empty());
  CHECK(s.fibre_catalogue->cables[b.needs[PremisesId(0u)].unit].name == "2-fibre unit");
  CHECK(s.fibre_catalogue->cables[b.needs[PremisesId(1u)].unit].fibres >= 7);
  // A unit of 1.0 mm in 3.5 mm stalls at 1,095 m by the full force balance (derived), with bends of 0.3 m
  // radius.
  CHECK(b.longest_drop < metres(1150));
  CHECK(b.longest_drop > metres(1050));
  // Microcables of 5.2 and 6.1 mm in 10 mm stall at 1,425-1,725 m at 30 N and 12 bar [derived], data sheets
  // say 2,300 m at 15 bar [practice]: the table of units and bores, and V6.
  CHECK(b.longest_feeder > metres(1000));
  CHECK(b.longest_feeder < metres(2500));
  CHECK(b.longest_light == metres(20000));  // the reach of G.984.2
  CHECK(b.cabinet.premises > 0);
  CHECK(b.cabinet.dwellings > 0);
  CHECK(b.cabinet_cost > Money{});
  CHECK(b.joint_cost > Money{});
  CHECK(b.feeder_metre > b.unit_metre);
  for (SpanId span : n.spans.ids()) CHECK(b.open_cost[span] > Money{});
}

TEST_CASE("the shipped length share keeps a fifth of the stall length in hand") {
  const Scenario all = scenario_from(std::string(one_lane) + "blowing: {length share: 100 %}\n");
  const Scenario shipped = scenario_from(std::string(one_lane));
  const Network n = make_network(*all.demand, *all.site, Run{});
  const Length stall = make_basis(all, n, Run{}).longest_drop;
  // Friction 0.20 against 0.25: 1,010 against 809 m by the full force balance (derived).
  CHECK(make_basis(shipped, n, Run{}).longest_drop / stall == doctest::Approx(809.0 / 1010.0).epsilon(0.01));
}
