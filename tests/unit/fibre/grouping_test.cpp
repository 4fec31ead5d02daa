#include <doctest/doctest.h>

#include "model/price.h"
#include "unit/fibre/hand_made.h"
#include "unit/fibre/trace.h"

using namespace plan;
using namespace hand_made;

namespace {

int day_one(const Fibre& fibre) {
  int n = 0;
  for (const Splitter& s : fibre.splitters) n += s.day_one && !s.upstream.valid() ? 1 : 0;
  return n;
}

int expected_dwellings(const Fibre& fibre) {
  int n = 0;
  for (const Pon& p : fibre.pons) n += p.day_one;
  return n;
}

}  // namespace

// Ports of OLTs for 1,000 homes, take-up 0.4, split 32, utilisation 0.85: a central place needs
// ceil(homes take-up / (split utilisation)) = 15 on day one, a fixed cascade ceil(homes / (split
// utilisation)) = 37. Common practice of the trade; figures derived from its two formulas.
TEST_CASE("ports, day one and ultimate: 15 at a central patched place, 37 for a fixed cascade") {
  Estate central;
  central.split({{SplitterPlace::headend, 32}});
  central.add_splitter(32, 17.2, true);
  central.rules.take_up = 0.4;
  central.rules.port_fill = 0.85;
  central.rules.reserve_all_ports = false;
  const StationId top = central.headend(0, 1);
  for (int c = 0; c < 4; ++c) {
    const StationId cabinet = central.station(StationKind::cabinet, top, {1, 0});
    for (int k = 0; k < 250; ++k) central.premises(cabinet);
  }
  const Fibre a = central.make();
  CHECK(day_one(a) == 15);
  CHECK(a.stations[top].splitters_day_one == 15);
  CHECK(a.pons.size() == 37);
  CHECK(a.stations[top].splitters_ultimate == 37);
  CHECK(expected_dwellings(a) == 400);
  CHECK(central_ports(1000, 0.4, 32, 0.85) == Ports{15, 37});

  Estate cascade;
  cascade.split({{SplitterPlace::cabinet, 4}, {SplitterPlace::cabinet, 8}});
  cascade.add_splitter(4, 7.2);
  cascade.add_splitter(8, 10.2);
  cascade.rules.take_up = 0.4;
  cascade.rules.port_fill = 0.85;
  const StationId cabinet = cascade.station(StationKind::cabinet, cascade.headend(), {0, 2});
  for (int k = 0; k < 1000; ++k) cascade.premises(cabinet);
  const Fibre b = cascade.make();
  CHECK(b.pons.size() == 37);
  CHECK(day_one(b) == 37);
  CHECK(expected_dwellings(b) == 400);
  CHECK(b.stations[cabinet].splitters_ultimate == 37 + 148);  // 1000 / (8 x 0.85) = 147.06
  CHECK(b.stations[cabinet].feed_fibres == 37);
  CHECK(trace::faults(cascade.input(), b).empty());
}

// A cabinet with 1:4 splitters, drawn by hand:
//   A one dwelling, B a building of three, C on order, D one       filled in this order, fill 1
TEST_CASE("dwellings fill splitters in the order of the links") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 4}});
  e.add_splitter(4, 7.2);
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
  const PremisesId a = e.premises(cabinet), b = e.premises(cabinet, 3), c = e.premises(cabinet),
                   d = e.premises(cabinet);
  e.basis.needs[c].reserved = true;
  const Fibre f = e.make();

  REQUIRE(f.dwellings.size() == 6);
  REQUIRE(f.splitters.size() == 2);
  CHECK(f.first_dwelling[a] == DwellingId(0u));
  CHECK(f.first_dwelling[b] == DwellingId(1u));
  CHECK(f.first_dwelling[d] == DwellingId(5u));
  const uint32_t splitter[] = {0, 0, 0, 0, 1, 1};
  const int port[] = {1, 2, 3, 4, 1, 2}, fibre[] = {1, 1, 2, 3, 1, 1}, number[] = {1, 1, 2, 3, 1, 1};
  for (DwellingId k : f.dwellings.ids()) {
    CAPTURE(k.value);
    const Dwelling& dwelling = f.dwellings[k];
    CHECK(dwelling.splitter == SplitterId(splitter[k.value]));
    CHECK(dwelling.port == port[k.value]);
    CHECK(dwelling.fibre == fibre[k.value]);
    CHECK(dwelling.number == number[k.value]);
    CHECK(dwelling.pon == PonId(splitter[k.value]));
    CHECK(dwelling.link == e.layout.drops[dwelling.premises]);
    CHECK(dwelling.state == (dwelling.premises == c ? LightState::reserved : LightState::lit));
  }
  CHECK(f.splitters[SplitterId(0u)].feed_fibre == 1);
  CHECK(f.splitters[SplitterId(1u)].feed_fibre == 2);
  CHECK_FALSE(f.splitters[SplitterId(0u)].upstream.valid());
  CHECK(f.pons[PonId(0u)] == Pon{HeadendId(0u), 1, 4, 4});
  CHECK(f.pons[PonId(1u)] == Pon{HeadendId(0u), 2, 1, 2});  // C is on order: ultimate only
  // Spliced through at the headend: fibre k of the feeder to OLT port k.
  REQUIRE(f.throughs[StationId(0u)].size() == 2);
  CHECK(f.throughs[StationId(0u)][1] == Through{e.layout.feeds[cabinet], 2, 2});
}

TEST_CASE("the headend's own premises and its cabinets: ports in the order of stations") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 2}});
  e.add_splitter(2, 3.5);
  const StationId top = e.headend(0, 1);
  const StationId near = e.station(StationKind::cabinet, top, {0, 1});
  const StationId far = e.station(StationKind::cabinet, near, {0, 1});  // its feed passes through `near`
  e.premises(far);
  e.premises(near, 3);
  e.premises(top);
  const Fibre f = e.make();
  REQUIRE(f.pons.size() == 4);
  const uint32_t place[] = {0, 1, 1, 2};
  for (SplitterId s : f.splitters.ids()) {
    CHECK(f.splitters[s].station == StationId(place[s.value]));
    CHECK(f.splitters[s].pon == PonId(s.value));
    CHECK(f.pons[f.splitters[s].pon].port == static_cast<int>(s.value) + 1);
  }
  CHECK(f.stations[near].feed_fibres == 3);  // two of its own, one passing
  CHECK(f.throughs[near].size() == 1);
  CHECK(f.throughs[near][0] == Through{e.layout.feeds[far], 1, 3});
  CHECK(trace::faults(e.input(), f).empty());
}

TEST_CASE("OLT ports count from 1 at every headend") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 2}});
  e.add_splitter(2, 3.5);
  for (int h = 0; h < 2; ++h) e.premises(e.headend(0, 1), 3);
  const Fibre f = e.make();
  REQUIRE(f.pons.size() == 4);
  const int port[] = {1, 2, 1, 2};
  const uint32_t headend[] = {0, 0, 1, 1};
  for (PonId p : f.pons.ids()) {
    CHECK(f.pons[p].port == port[p.value]);
    CHECK(f.pons[p].headend == HeadendId(headend[p.value]));
  }
}

// 45 x 4 x 0.7 is 126, in binary arithmetic a little less: no 46th splitter for the last dwelling.
TEST_CASE("a fill that is no binary fraction costs no splitter") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 4}});
  e.add_splitter(4, 7.2);
  e.rules.port_fill = 0.7;
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
  for (int k = 0; k < 126; ++k) e.premises(cabinet);
  CHECK(e.make().splitters.size() == 45);
}

TEST_CASE("a splitter in the building: one unit fibre in, indoor fibres out") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 4}, {SplitterPlace::building, 8}});
  e.add_splitter(4, 7.2);
  e.add_splitter(8, 10.2);
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
  const PremisesId b = e.building(cabinet, 12, {1, 1});
  const PremisesId single = e.premises(cabinet);  // straight on a 1:4: no second stage stands on its way
  const Fibre f = e.make();
  CHECK(f.splitters.size() == 3);
  CHECK(f.pons.size() == 1);
  for (uint32_t n = 0; n < 12; ++n) {
    const Dwelling& d = f.dwellings[DwellingId(f.first_dwelling[b].value + n)];
    CHECK(d.fibre == 0);
    CHECK(d.link == e.layout.drops[b]);
    CHECK(f.splitters[d.splitter].stage == 1);
  }
  CHECK(f.cables[e.layout.drops[b]].fibres_used == 2);
  const Dwelling& alone = f.dwellings[f.first_dwelling[single]];
  CHECK(f.splitters[alone.splitter].stage == 0);
  CHECK(alone.port == 3);
  CHECK(trace::faults(e.input(), f).empty());
}

TEST_CASE("two fibres a dwelling: the first of each pair is lit") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 4}});
  e.add_splitter(4, 7.2);
  e.rules.fibres_per_dwelling = 2;
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
  e.premises(cabinet, 3);
  const Fibre f = e.make();
  CHECK(f.dwellings[DwellingId(0u)].fibre == 1);
  CHECK(f.dwellings[DwellingId(1u)].fibre == 3);
  CHECK(f.dwellings[DwellingId(2u)].fibre == 5);
}

TEST_CASE("without a split every dwelling has its own OLT port") {
  Estate e;
  e.split({});
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 0});
  for (int k = 0; k < 5; ++k) e.premises(cabinet);
  e.rules.take_up = 0.6;
  const Fibre f = e.make();
  CHECK(f.pons.size() == 5);
  CHECK(expected_dwellings(f) == 3);
  CHECK(f.splitters.empty());
  CHECK(trace::faults(e.input(), f).empty());
}

TEST_CASE("an odd port fill is honoured on the whole, never a port too many") {
  for (int percent = 1; percent <= 100; ++percent) {
    CAPTURE(percent);
    Estate e;
    e.split({{SplitterPlace::cabinet, 16}});
    e.add_splitter(16, 13.5);
    e.rules.port_fill = percent / 100.0;
    const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
    for (int k = 0; k < 97; ++k) e.premises(cabinet);
    const Fibre f = e.make();
    const double each = std::max(1.0, 16 * percent / 100.0);
    CHECK(static_cast<double>(f.splitters.size()) >= 97 / each - 1e-9);
    CHECK(static_cast<double>(f.splitters.size()) < 97 / each + 1);
    CHECK(trace::faults(e.input(), f).empty());
  }
}

TEST_CASE("premises that a station does not serve stay unlit; unplanned ones have no dwellings") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 4}});
  e.add_splitter(4, 7.2);
  e.station(StationKind::cabinet, e.headend(), {0, 1});
  const PremisesId far = e.unserved(2, true), never = e.unserved(3, false);
  const Fibre f = e.make();
  CHECK(f.dwellings.size() == 2);
  CHECK(f.dwellings[f.first_dwelling[far]].state == LightState::unlit);
  CHECK_FALSE(f.dwellings[f.first_dwelling[far]].pon.valid());
  CHECK_FALSE(f.first_dwelling[never].valid());
  CHECK(f.pons.empty());
  CHECK(f.findings.empty());
}

TEST_CASE("own take-up of a premises goes before the scenario's") {
  Estate e;
  e.split({{SplitterPlace::cabinet, 32}});
  e.add_splitter(32, 16.6);
  e.rules.take_up = 0.5;
  const StationId cabinet = e.station(StationKind::cabinet, e.headend(), {0, 1});
  for (int k = 0; k < 4; ++k) e.premises(cabinet);
  e.demand.premises[e.premises(cabinet, 10)].take_up = 1;
  CHECK(expected_dwellings(e.make()) == 12);
}

TEST_CASE("an empty estate has an empty result") {
  const Estate e;
  CHECK(e.make() == Fibre{});
}
