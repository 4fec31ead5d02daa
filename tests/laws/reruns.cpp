// Which stages each kind of edit runs again, by name and by count, on an estate of seven doors.
//
// A stage runs again where a slice or an earlier result that it takes has changed. A name with `=` ran again
// and found what it had found before: all that takes only that is kept (early cut-off).
#include "laws/edits.h"

using namespace plan;

namespace {

constexpr std::string_view row = R"(scenario: Row
start: 2027-03-01
estate:
  premises:
    - {name: 1 Mill Lane, at: [20, 8]}
    - {name: 2 Mill Lane, at: [40, -8]}
    - {name: 3 Mill Lane, at: [60, 8], dwellings: 3}
    - {name: 4 Mill Lane, at: [80, -8], connect: on order}
    - {name: 5 Mill Lane, at: [100, 8]}
    - {name: 1 Back Lane, at: [128, 30]}
    - {name: 2 Back Lane, at: [112, 50]}
  routes:
    - {name: Mill Lane, line: [[0, 0], [60, 0], [120, 0]], surface: verge}
    - {name: Back Lane, line: [[120, 0], [120, 60]], surface: paved footway}
headends:
  - {name: Exchange, at: [0, -5]}
class: GPON B+
split: [{at: cabinet, ratio: 1:8}]
)";

struct Expected {
  std::string_view edit;
  size_t ran;
  std::string_view names;
};
const Expected expected[] = {
    // The street graph is made anew, so that all ids may change; a forbidden site is none of its business.
    {"add premises", 12,
     "network basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},
    {"leave out premises", 12,
     "network basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},
    {"forbid a route", 12,
     "network basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},
    {"a route blocked", 12,
     "network basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},
    {"forbid a site", 10,
     "network= basis layout= ducts= fibre= optics= acceptance= takeoff= schedule= orders="},
    // Work orders are called after the scenario.
    {"another name", 9, "network= basis= ducts= fibre= optics= acceptance= takeoff= schedule= orders"},

    {"microduct rated lower", 8, "basis= ducts= fibre= blowing acceptance takeoff= schedule= orders="},
    {"bundle left out", 10, "basis layout= ducts fibre= blowing= acceptance= takeoff schedule= bom orders"},
    {"shorter bundle drums", 9, "basis= ducts= fibre= blowing= acceptance= takeoff schedule= bom= orders="},
    {"smaller cabinet", 8, "basis layout= ducts= fibre= blowing= acceptance= takeoff= orders="},
    {"shorter unit drums", 10,
     "basis= ducts= fibre= blowing= optics= acceptance= takeoff schedule= bom orders="},
    {"stiffer unit", 9, "basis= ducts= fibre= blowing optics= acceptance= takeoff= schedule= orders="},
    {"poorer splitters", 8, "basis= ducts= fibre= blowing= optics acceptance takeoff= orders="},

    {"split at the cabinet", 11,
     "basis layout= ducts= fibre blowing optics acceptance takeoff schedule bom orders"},
    {"split in two stages", 11,
     "basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},
    // Rules that do not bind.
    {"smaller branch points", 5, "basis= layout= ducts= fibre= takeoff="},
    {"cabinet fill", 5, "basis layout= ducts= fibre= takeoff="},
    {"shorter drops", 5, "basis= layout= ducts= fibre= takeoff="},
    {"another chamber", 5, "basis= layout= ducts= fibre= takeoff="},
    {"at sites only", 11, "basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders"},

    {"more spare microducts", 9, "basis= ducts fibre= blowing acceptance= takeoff schedule bom orders"},
    {"longer tails", 8, "basis= ducts= fibre= blowing= takeoff schedule= bom orders"},
    {"wider microduct", 10, "basis layout= ducts fibre= blowing acceptance takeoff schedule= bom orders"},
    {"colder laying", 7, "basis= ducts fibre= blowing= takeoff= schedule= orders="},

    {"take-up", 9, "basis= fibre blowing= optics= acceptance= takeoff schedule= bom orders="},
    {"more fibres", 11,
     "basis layout= ducts= fibre blowing optics= acceptance= takeoff schedule= bom orders"},
    {"more slack", 11, "basis layout= ducts= fibre blowing= optics acceptance takeoff schedule= bom orders"},

    // Friction that refuses no blow leaves the layout, and even the acceptance tests, as they were.
    {"more friction", 5, "basis= blowing acceptance= schedule= orders="},
    {"much more friction", 5, "basis= blowing acceptance= schedule= orders="},
    {"less pressure", 5, "basis= blowing acceptance= schedule= orders="},

    {"class", 4, "basis= optics acceptance orders="},
    {"margin", 4, "basis= optics acceptance= orders="},

    {"price of a splice", 2, "bom orders="},
    {"price of a surface", 2, "bom orders="},
    {"design price of a splice", 1, "basis="},
    {"design price of a surface", 10,
     "basis layout ducts= fibre= blowing= optics= acceptance= takeoff= schedule= orders="},

    {"longer lead", 3, "schedule bom orders"},
    {"lead of one item", 3, "schedule bom orders"},
    {"one crew", 3, "schedule bom orders"},
    {"shorter shift", 3, "schedule bom orders"},
    {"faster blowing", 3, "schedule bom= orders"},
};

struct Reruns {
  size_t ran = 0;
  std::string names;
};
Reruns reruns(const std::vector<StageRun>& stages) {
  Reruns r;
  for (const StageRun& stage : stages) {
    if (stage.kept) continue;
    ++r.ran;
    r.names += fmt::format("{}{}{}", r.names.empty() ? "" : " ", stage.stage, stage.changed ? "" : "=");
  }
  return r;
}

}  // namespace

TEST_CASE("each kind of edit runs again only what takes what it changed") {
  const FolderTexts texts = with_edits(FolderTexts{{"scenario.yaml", std::string(row)}});
  const Scenario scenario = scenario_in(texts);
  const Plan base = planned(scenario);
  CHECK(base.rounds.size() == 1);
  CHECK(std::size(expected) == scenario.edits.size());
  for (const Expected& e : expected) {
    CAPTURE(e.edit);
    const Plan plan = planned_on(base, edit_named(texts, scenario, e.edit));
    const Reruns r = reruns(plan.stages);
    CHECK(r.names == e.names);
    CHECK(r.ran == e.ran);
  }
}

TEST_CASE("nothing runs again where nothing has changed") {
  const Scenario scenario = scenario_in(shipped("hamlet"));
  const Plan base = planned(scenario);
  CHECK(reruns(planned_on(base, scenario).stages).ran == 0);
  // The same text read a second time is the same scenario, though it shares no slice.
  CHECK(reruns(planned_on(base, scenario_in(shipped("hamlet"))).stages).ran == 0);
}

TEST_CASE("without a base every stage runs") {
  const Plan plan = planned(scenario_in(FolderTexts{{"scenario.yaml", std::string(row)}}));
  CHECK(reruns(plan.stages).ran == 12);
  CHECK(reruns(plan.stages).names ==
        "network basis layout ducts fibre blowing optics acceptance takeoff schedule bom orders");
}
