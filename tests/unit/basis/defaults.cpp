#include <doctest/doctest.h>

#include "basis/basis.h"
#include "scenario_text.h"

using namespace plan;

TEST_CASE("the shipped catalogue and rules make a basis without findings") {
  const Scenario s = scenario_from(R"(
scenario: One Lane
start: 2027-03-01
estate:
  premises:
    - {name: A, at: [500, 10]}
    - {name: B, at: [900, -10], dwellings: 6}
  routes: [{name: lane, line: [[0, 0], [60000, 0]], surface: verge}]
headends: [{name: Exchange, at: [0, -5]}]
)");
  const Network n = make_network(*s.demand, *s.site, Run{});
  const Basis b = make_basis(s, n, Run{});
  CHECK(n.findings.empty());
  CHECK(b.findings.empty());
  CHECK(s.fibre_catalogue->cables[b.needs[PremisesId(0u)].unit].name == "2-fibre unit");
  CHECK(s.fibre_catalogue->cables[b.needs[PremisesId(1u)].unit].fibres >= 7);
  // A unit of 1.0 mm in 3.5 mm stalls at 1,095 m: blowing.md 6.3 [derived], with bends of 0.3 m radius.
  CHECK(b.longest_drop < metres(1150));
  CHECK(b.longest_drop > metres(1050));
  // Microcables of 5.2 and 6.1 mm in 10 mm stall at 1,425-1,725 m at 30 N and 12 bar [derived], data sheets
  // say 2,300 m at 15 bar [practice]: blowing.md 6.3 and V6.
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
