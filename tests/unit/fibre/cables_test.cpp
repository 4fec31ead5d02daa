#include <doctest/doctest.h>

#include "unit/fibre/hand_made.h"

using namespace plan;
using namespace hand_made;

namespace {

// A cabinet that needs `fibres` feeder fibres, 1:2 splitters.
struct Feeder : Estate {
  LinkId feed;
  StationId cabinet;
  explicit Feeder(int fibres) {
    split({{SplitterPlace::cabinet, 2}});
    add_splitter(2, 3.5);
    cabinet = station(StationKind::cabinet, headend(), {0, 1}, metres(1000));
    feed = layout.feeds[cabinet];
    for (int k = 0; k < 2 * fibres; ++k) premises(cabinet);
  }
  int chosen(const Fibre& f) const {
    const CableId c = f.cables[feed].cable;
    return c.valid() ? catalogue.cables[c].fibres : 0;
  }
};

}  // namespace

TEST_CASE("the smallest feeder cable that holds the inputs and the spare share") {
  Feeder e(10);
  CHECK(e.chosen(e.make()) == 12);
  e.rules.feeder_spare_share = 0.2;  // exactly 12
  CHECK(e.chosen(e.make()) == 12);
  e.rules.feeder_spare_share = 0.21;  // 12.1 fibres are 13
  CHECK(e.chosen(e.make()) == 24);
  CHECK(e.make().cables[e.feed].fibres_used == 10);
  Feeder large(100);
  CHECK(large.chosen(large.make()) == 144);
}

// Fill of 9.4 mm in a 10 mm bore is 88 %, of 7.9 mm 62.41 % (derived, (d/D)^2); the usual limit is 75 %.
TEST_CASE("no cable for the fibres: more than the largest that fits its microduct") {
  Feeder e(200);
  const Fibre f = e.make();
  CHECK_FALSE(f.cables[e.feed].cable.valid());
  REQUIRE(f.findings.size() == 1);
  CHECK(f.findings[0] == Finding{.rule = Rule::no_cable_for_fibres,
                                 .at = subject(e.feed),
                                 .actual = 200,
                                 .limit = 144,
                                 .mend = Mend::larger_microduct});
  // Light is planned all the same.
  CHECK(f.dwellings[DwellingId(399u)].pon.valid());
}

TEST_CASE("the bore that counts is the narrowest of the duct path") {
  Feeder e(10);
  Bundle wide, thin;
  wide.microduct = e.wide;
  thin.microduct = e.add_microduct("5/2.1 mm microduct", 5, 2.1);  // 12-fibre unit: (1.6/2.1)^2 = 58 %
  const BundleId w = e.duct_catalogue.bundles.add(wide), t = e.duct_catalogue.bundles.add(thin);
  const RunId first = e.ducts.runs.add({w, DuctRole::feeder, e.cabinet, {}, {}, metres(600)});
  const RunId second = e.ducts.runs.add({t, DuctRole::feeder, e.cabinet, {}, {}, metres(420)});
  const SectionId a = e.ducts.sections.add({first, 1, SectionState::used, {}, {}, metres(600), e.feed});
  const SectionId b = e.ducts.sections.add({second, 1, SectionState::used, {}, {}, metres(420), e.feed});
  e.ducts.paths.add(std::vector<SectionId>{a, b});
  for (uint32_t k = 1; k < e.layout.links.size(); ++k) e.ducts.paths.add({});
  Fibre f = e.make();
  CHECK(e.chosen(f) == 12);
  CHECK(f.cables[e.feed].duct_length == metres(1020));  // of the sections, not of the route
  e.duct_rules.unit_fill.fail = 0.58;                   // 0.5805 is more
  f = e.make();
  CHECK(e.chosen(f) == 0);
  CHECK(f.findings[0].limit == 4);
}

// Slack 3 % over the route (recalled trade default); loops of 30 m at a cabinet are US practice.
TEST_CASE("lengths: slack over the duct path, tails of a unit, loops of a cable, indoor length") {
  Feeder e(1);
  e.rules.slack_share = 0.03;
  e.rules.unit_tail = metres(3);
  e.rules.cable_loop_at_cabinet = metres(30);
  e.rules.cable_loop_at_headend = metres(15);
  e.demand.premises[PremisesId(0u)].indoor = metres(7.25);
  const Fibre f = e.make();
  CHECK(f.cables[e.feed].duct_length == metres(1000));
  CHECK(f.cables[e.feed].length == metres(1030 + 30 + 15));
  CHECK(f.cables[LinkId(1u)].length == metres(51.5 + 3 + 3 + 7.25));
  CHECK(f.cables[LinkId(2u)].length == metres(51.5 + 3 + 3));
}

TEST_CASE(
    "a premises gets the unit of its basis; where the basis found none there is none, told once there") {
  Feeder e(1);
  e.basis.needs[PremisesId(0u)].unit = CableId(1u);
  e.basis.needs[PremisesId(1u)].unit = CableId();
  const Fibre f = e.make();
  CHECK(f.cables[LinkId(1u)].cable == CableId(1u));
  CHECK_FALSE(f.cables[LinkId(2u)].cable.valid());
  CHECK(f.findings.empty());
}

// 24 fibres: the mini cable of 2.8 mm fills 64 % of a 3.5 mm bore and 8 % of a 10 mm one.
TEST_CASE(
    "a branch point's cable goes through the distribution microduct, a cabinet's through the feeder's") {
  Estate e;
  e.split({{SplitterPlace::branch_point, 2}});
  e.add_splitter(2, 3.5);
  e.duct_rules.microcable_fill.fail = 0.6;
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 0});
  const StationId branch = e.station(StationKind::branch_point, cabinet, {0, 1});
  for (int k = 0; k < 40; ++k) e.premises(branch);
  const Fibre f = e.make();
  CHECK(f.cables[e.layout.feeds[cabinet]].cable == CableId(2u));
  CHECK_FALSE(f.cables[e.layout.feeds[branch]].cable.valid());
  REQUIRE(f.findings.size() == 1);
  CHECK(f.findings[0].at == subject(e.layout.feeds[branch]));
  CHECK(f.findings[0].actual == 20);
  CHECK(f.findings[0].limit == 12);
}

TEST_CASE("a building whose basis unit is missing gets the smallest cable for its splitter and the spare") {
  Estate e;
  e.split({{SplitterPlace::building, 8}});
  e.add_splitter(8, 10.2);
  const PremisesId p = e.building(e.station(StationKind::cabinet, e.headend(), {0, 0}), 30, {0, 1});
  e.basis.needs[p].unit = CableId();
  CHECK(e.make().cables[e.layout.drops[p]].cable == CableId(1u));  // 4 inputs, the 4-fibre unit
  e.rules.spare_fibres_per_unit = 1;
  CHECK(e.make().cables[e.layout.drops[p]].cable == CableId(0u));
}
