#include <doctest/doctest.h>

#include <algorithm>

#include "unit/fibre/hand_made.h"

using namespace plan;
using namespace hand_made;

namespace {

const Finding* find(const Fibre& f, Rule rule) {
  const auto at =
      std::find_if(f.findings.begin(), f.findings.end(), [&](const Finding& x) { return x.rule == rule; });
  return at == f.findings.end() ? nullptr : &*at;
}

// Headend, a cabinet with 1:4, a building of two dwellings and three houses.
struct Five : Estate {
  StationId top, cabinet;
  explicit Five(bool connectorised) {
    split({{SplitterPlace::cabinet, 4}});
    add_splitter(4, 7.2, connectorised);
    top = headend();
    cabinet = station(StationKind::cabinet, top, {0, 1}, metres(500));
    premises(cabinet, 2);
    for (int k = 0; k < 3; ++k) premises(cabinet);
  }
};

}  // namespace

TEST_CASE("splices and trays of a spliced cabinet: one a feed fibre, one a unit fibre") {
  Five e(false);
  e.rules.splices_per_tray = 6;
  const Fibre f = e.make();
  CHECK(f.stations[e.cabinet].splices == 2 + 5);
  CHECK(f.stations[e.cabinet].trays == 2);
  CHECK(f.stations[e.cabinet].connectors == 0);
  CHECK(f.stations[e.top].splices == 2);     // feeder fibres to pigtails
  CHECK(f.stations[e.top].connectors == 4);  // two mated pairs a fibre
  for (PremisesId p : f.premises_splices.ids())
    CHECK(f.premises_splices[p] == e.demand.premises[p].dwellings);  // one at every outlet
}

TEST_CASE("a patched cabinet adds a connector on each side of the splitter") {
  Five e(true);
  e.rules.patched_cabinet = true;
  const Fibre f = e.make();
  CHECK(f.stations[e.cabinet].splices == 2 + 5);
  CHECK(f.stations[e.cabinet].connectors == 2 + 5);
}

TEST_CASE("a building point without a splitter has a splice of its own for each dwelling") {
  Five e(false);
  e.demand.premises[PremisesId(0u)].building_point = true;
  const Fibre f = e.make();
  CHECK(f.premises_splices[PremisesId(0u)] == 4);
}

TEST_CASE("only fitted splitters are spliced at build; trays wait for all") {
  Five e(false);
  e.rules.reserve_all_ports = false;
  e.rules.take_up = 0.5;  // three of five: one 1:4
  e.rules.splices_per_tray = 1;
  const Fibre f = e.make();
  CHECK(f.stations[e.cabinet].splitters_day_one == 1);
  CHECK(f.stations[e.cabinet].splitters_ultimate == 2);
  CHECK(f.stations[e.cabinet].splices == 1 + 4);
  CHECK(f.stations[e.cabinet].trays == 2 + 5);
}

TEST_CASE(
    "premises on order: port and tray are kept, splices and the building's splitter come with the order") {
  Five e(false);
  e.rules.splices_per_tray = 1;
  e.basis.needs[PremisesId(0u)].reserved = true;  // two dwellings
  Fibre f = e.make();
  CHECK(f.stations[e.cabinet].splices == 2 + 3);
  CHECK(f.stations[e.cabinet].trays == 2 + 5);
  CHECK(f.premises_splices[PremisesId(0u)] == 0);
  CHECK(f.stations[e.cabinet].splitters_day_one == 2);

  Estate b;
  b.split({{SplitterPlace::cabinet, 4}, {SplitterPlace::building, 4}});
  b.add_splitter(4, 7.2);
  const StationId cabinet = b.station(StationKind::cabinet, b.headend(), {0, 1});
  const PremisesId p = b.building(cabinet, 4, {1, 1});
  b.basis.needs[p].reserved = true;
  f = b.make();
  CHECK(f.splitters[SplitterId(0u)].day_one);
  CHECK_FALSE(f.splitters[SplitterId(1u)].day_one);
  CHECK(f.stations[cabinet].splices == 1);  // the feeder fibre alone
}

TEST_CASE("a cabinet that only splices through: one splice a dwelling, none yet for one on order") {
  Estate e;
  e.split({{SplitterPlace::headend, 8}});
  e.add_splitter(8, 10.7, true);
  const StationId top = e.headend(0, 1);
  const StationId cabinet = e.station(StationKind::cabinet, top, {1, 0});
  for (int k = 0; k < 5; ++k) e.basis.needs[e.premises(cabinet)].reserved = k < 2;
  e.rules.splices_per_tray = 1;
  const Fibre f = e.make();
  CHECK(f.stations[cabinet].feed_fibres == 5);
  CHECK(f.stations[cabinet].splices == 3);
  CHECK(f.stations[cabinet].trays == 5);
  CHECK(f.stations[cabinet].connectors == 0);
  CHECK(f.stations[top].splices == 3);
  CHECK(f.stations[top].connectors == 3 + 1);  // outputs in use, and the input on its OLT port
}

TEST_CASE("splitters in cascade in one cabinet: spliced when bare, plugged when connectorised") {
  for (const bool connectors : {false, true}) {
    Estate e;
    e.split({{SplitterPlace::cabinet, 2}, {SplitterPlace::cabinet, 4}});
    e.add_splitter(2, 3.5, connectors);
    e.add_splitter(4, 7.2, connectors);
    const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 2});
    for (int k = 0; k < 8; ++k) e.premises(cabinet);
    const Fibre f = e.make();
    CHECK(f.stations[cabinet].splices == 1 + 8 + (connectors ? 0 : 2));
    CHECK(f.stations[cabinet].connectors == (connectors ? 1 + 8 + 2 : 0));
    CHECK(f.splitters[SplitterId(1u)].feed_fibre == 0);
    CHECK(f.splitters[SplitterId(1u)].upstream == SplitterId(0u));
    CHECK(f.splitters[SplitterId(2u)].upstream_port == 2);
  }
}

TEST_CASE("bare splitters where it is spliced, connectorised ones where it is patched") {
  Five e(true);
  const SplitterTypeId bare = e.add_splitter(4, 7.0, false);
  CHECK(e.make().splitters[SplitterId(0u)].type == bare);
  e.rules.patched_cabinet = true;
  CHECK(e.make().splitters[SplitterId(0u)].type == SplitterTypeId(0u));
}

TEST_CASE("a ratio that the catalogue lacks is told once") {
  Five e(false);
  e.split({{SplitterPlace::cabinet, 3}});
  const Fibre f = e.make();
  REQUIRE(f.findings.size() == 1);
  CHECK(f.findings[0].rule == Rule::splitter_missing);
  CHECK(f.findings[0].actual == 3);
  CHECK_FALSE(f.splitters[SplitterId(0u)].type.valid());
}

TEST_CASE("limits of the cabinet and of the headend") {
  Five e(false);
  e.rules.splices_per_tray = 2;
  CabinetType type;
  type.splitter_slots = 1;
  type.trays = 3;
  type.feeder_fibres = 1;
  e.layout_rules.cabinet = e.duct_catalogue.cabinets.add(type);
  e.demand.headends[HeadendId(0u)].olt_ports = 1;
  const Fibre f = e.make();
  REQUIRE(find(f, Rule::cabinet_splitters_exceeded));
  CHECK(find(f, Rule::cabinet_splitters_exceeded)->at == subject(e.cabinet));
  CHECK(find(f, Rule::cabinet_splitters_exceeded)->actual == 2);
  REQUIRE(find(f, Rule::trays_exceeded));
  CHECK(find(f, Rule::trays_exceeded)->actual == 4);  // 7 splices
  CHECK(find(f, Rule::trays_exceeded)->limit == 3);
  REQUIRE(find(f, Rule::feeder_fibres_exceeded));
  CHECK(find(f, Rule::feeder_fibres_exceeded)->mend == Mend::larger_cabinet);
  REQUIRE(find(f, Rule::olt_ports_exceeded));
  CHECK(*find(f, Rule::olt_ports_exceeded) == Finding{.rule = Rule::olt_ports_exceeded,
                                                      .at = subject(HeadendId(0u)),
                                                      .actual = 2,
                                                      .limit = 1,
                                                      .mend = Mend::larger_headend});
  CHECK(f.findings.size() == 4);

  // Exactly at every limit there is nothing to tell; 0 at a headend is no limit.
  type.splitter_slots = 2;
  type.trays = 4;
  type.feeder_fibres = 2;
  e.duct_catalogue.cabinets[e.layout_rules.cabinet] = type;
  e.demand.headends[HeadendId(0u)].olt_ports = 2;
  e.demand.headends[HeadendId(0u)].feeder_fibres = 2;
  CHECK(e.make().findings.empty());
  e.demand.headends[HeadendId(0u)].feeder_fibres = 1;
  CHECK(e.make().findings.size() == 1);
}
