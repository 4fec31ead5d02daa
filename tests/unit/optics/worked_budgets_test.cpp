// Published worked budgets, each planned by the real stages: stations, splitters, cables and rules are set so
// that the parts of the budget come out of the light path, and the ledger must read what the source prints.
#include <doctest/doctest.h>

#include <cmath>

#include "model/loss.h"
#include "unit/optics/lit_estate.h"

using namespace plan;
using namespace hand_made;

namespace {

double count(const std::vector<LedgerLine>& lines, std::string_view start) {
  double n = 0;
  for (const LedgerLine& l : lines)
    n += std::string_view(l.what).substr(0, start.size()) == start ? l.amount : 0;
  return n;
}

// Headend, cabinet, branch point, house: two stages of bare splitters, six splices, four connectors.
struct TwoStages : LitEstate {
  int b_plus, n2, c_plus;
  TwoStages(SplitStage first, SplitStage second, double kilometres) {
    split({first, second});
    const StationId cabinet =
        station(StationKind::cabinet, headend(), {0, 1}, metres(kilometres * 1000 - 1000));
    premises(station(StationKind::branch_point, cabinet, {1, 1}, metres(900)), 1, metres(100));
    optic_rules.connectors_at_headend = optic_rules.connectors_at_outlet = 2;
    b_plus = add_class("B+", 13, 28);
    n2 = add_class("N2", 16, 31);
    c_plus = add_class("C+", 17, 32);
    optic_rules.optical_class = b_plus;
  }
};

}  // namespace

// University exercise: 7.37 km x 0.4 + 1 + 7.3 (1:4) + 13.7 (1:16) + 1 + 0.6 + 0.3 + 1 = 27.848 dB. The terms
// 1 + 1 are two pairs of connectors at 0.5, 0.6 + 0.3 the splices (six at 0.15), the last 1 the margin.
TEST_CASE("worked budget: 1:4 then 1:16 over 7.37 km loses 27.848 dB, B+ passes by 0.152") {
  TwoStages e({SplitterPlace::cabinet, 4}, {SplitterPlace::branch_point, 16}, 7.37);
  e.add_splitter(4, 7.3);
  e.add_splitter(16, 13.7);
  e.optic_rules.splice_max = decibels(0.15);
  const Optics o = e.light();
  const Ledger& l = o.ledgers[DwellingId(0u)];
  CHECK(l.glass == metres(7370));
  CHECK(about(l.up_max, 27.848));
  CHECK(about(l.down_max, 27.848));
  CHECK(about(l.up_margin, 0.152));
  CHECK(about(l.down_margin, 0.152));
  CHECK(o.findings.empty());
  const std::vector<LedgerLine> lines = e.expanded();
  CHECK(count(lines, "splice") == 6);
  CHECK(count(lines, "connectors") == 4);
}

// The same exercise with 1:8 and 7.42 km: 31.068 dB (it prints 31): B+ fails by 3.068, N2 by 0.068, C+ passes
// by 0.932. The exercise takes 0.4 dB/km for every system.
TEST_CASE("worked budget: 1:8 then 1:16 over 7.42 km loses 31.068 dB, only C+ carries it") {
  TwoStages e({SplitterPlace::cabinet, 8}, {SplitterPlace::branch_point, 16}, 7.42);
  e.add_splitter(8, 10.5);
  e.add_splitter(16, 13.7);
  e.optic_rules.splice_max = decibels(0.15);
  e.optic_rules.also = {e.n2, e.c_plus};
  const Optics o = e.light();
  CHECK(about(o.ledgers[DwellingId(0u)].up_max, 31.068));
  CHECK(about(o.ledgers[DwellingId(0u)].down_margin, -3.068));
  REQUIRE(o.findings.size() == 2);  // B+ and N2, not C+
  CHECK(o.findings[0].rule == Rule::loss_over_class);
  CHECK(o.findings[0].at == subject(DwellingId(0u)));
  CHECK(o.findings[0].by == subject(PonId(0u)));
  CHECK(about(o.findings[0].actual, 31.068));
  CHECK(o.findings[0].limit == 28);
  CHECK(o.findings[0].mend == Mend::higher_class);
  CHECK(about(o.findings[0].mend_amount, 3.068));
  CHECK(about(o.findings[1].mend_amount, 0.068));
  e.optic_rules.optical_class = e.c_plus;
  e.optic_rules.also = {};
  CHECK(about(e.light().ledgers[DwellingId(0u)].up_margin, 0.932));
  CHECK(e.light().findings.empty());
}

// Worked sheet: 8.6 km x 0.34 + 8 x 0.02 + 4 x 0.5 + 13.7 = 18.784 dB; launched at +3 dBm, -15.784 arrive.
TEST_CASE("worked budget: eight splices, four connectors and a 1:16 over 8.6 km lose 18.784 dB") {
  LitEstate e;
  e.flat_fibre(0.34, 0.34, 0.34);
  e.split({{SplitterPlace::cabinet, 16}});
  e.add_splitter(16, 13.7);
  StationId at = e.headend();
  for (int k = 0; k < 3; ++k) at = e.station(StationKind::cabinet, at, {0, 0}, metres(2000));
  at = e.station(StationKind::cabinet, at, {0, 1}, metres(2000));
  e.demand.premises[e.premises(at, 1, metres(600))].building_point = true;
  e.optic_rules.splice_max = decibels(0.02);
  e.optic_rules.margin = Loss();
  e.optic_rules.connectors_at_headend = e.optic_rules.connectors_at_outlet = 2;
  e.optic_rules.optical_class = e.add_class("B+", 13, 28);
  const Optics o = e.light();
  const Ledger& l = o.ledgers[DwellingId(0u)];
  CHECK(count(e.expanded(), "splice") == 8);
  CHECK(count(e.expanded(), "connectors") == 4);
  CHECK(about(l.down_max, 18.784));
  CHECK(std::fabs(in_dbm(dbm(3) - l.down_max) + 15.784) < 1e-9);
}

// Course review, links without a splitter: +3 / -24 dBm, 18 km x 0.25, 6 splices x 0.15, 4 connectors x 0.30,
// margin 3: loss 9.60, headroom 17.40. And +4 / -26, 22 km x 0.25, 7 x 0.15, 6 x 0.30, margin
// 3: 11.35, 18.65.
TEST_CASE("worked budgets: two links without a splitter leave 17.40 and 18.65 dB") {
  struct Row {
    double sent, sensed, km;
    int splices, connectors;
    double loss, headroom;
  };
  for (const Row& row : {Row{3, -24, 18, 6, 4, 9.60, 17.40}, Row{4, -26, 22, 7, 6, 11.35, 18.65}}) {
    CAPTURE(row.km);
    LitEstate e;
    e.flat_fibre(0.25, 0.25, 0.25);
    e.split({});
    StationId at = e.headend();
    for (int k = 0; k < row.splices - 2; ++k) at = e.station(StationKind::cabinet, at, {0, 0}, metres(10));
    e.premises(at, 1, metres(row.km * 1000 - 10 * (row.splices - 2)));
    e.optic_rules.splice_max = decibels(0.15);
    e.optic_rules.connector_max = decibels(0.30);
    e.optic_rules.connectors_at_headend = row.connectors / 2;
    e.optic_rules.connectors_at_outlet = row.connectors / 2;
    e.optic_rules.margin = decibels(3);
    e.optic_rules.optical_class = e.add_class("the link's own", 0, row.sent - row.sensed);
    const Ledger l = e.light().ledgers[DwellingId(0u)];
    CHECK(about(l.down_max, row.loss));
    CHECK(about(l.down_margin, row.headroom));
  }
}

// Derived from data-sheet maxima (1:8 10.7, 1:16 13.9, 1:32 17.2, 1:64 21.5) and class B+: fixed losses 1:N +
// 4 x 0.5 + 6 x 0.1 + margin 1, 0.40 dB/km: 34.25, 26.25, 18.00, 7.25 km are left.
TEST_CASE("longest glass under B+ at 1:8 … 1:64: fits to the metre") {
  struct Row {
    int ratio;
    double loss, km;
  };
  for (const Row& row : {Row{8, 10.7, 34.25}, Row{16, 13.9, 26.25}, Row{32, 17.2, 18.0}, Row{64, 21.5, 7.25}})
    for (const int metre : {0, 1}) {
      CAPTURE(row.ratio);
      LitEstate e;
      e.split({{SplitterPlace::cabinet, row.ratio}});
      e.add_splitter(row.ratio, row.loss);
      StationId at = e.station(StationKind::cabinet, e.headend(), {0, 0}, metres(1000));
      at = e.station(StationKind::cabinet, at, {0, 1}, metres(row.km * 1000 - 1100 + metre));
      e.demand.premises[e.premises(at, 1, metres(100))].building_point = true;
      e.optic_rules.connectors_at_headend = e.optic_rules.connectors_at_outlet = 2;
      e.optic_rules.optical_class = e.add_class("B+", 0, 28);
      const Optics o = e.light();
      CHECK(count(e.expanded(), "splice") == 6);
      CHECK(about(o.ledgers[DwellingId(0u)].down_margin, -0.0004 * metre));
      CHECK(o.findings.size() == (metre == 0 ? 0u : 1u));
      const LossClass c{decibels(0), decibels(28)};
      const Loss fixed = decibels(row.loss + 4 * 0.5 + 6 * 0.1);
      CHECK(std::fabs(in_metres(longest_fibre(c, fixed, decibels(1), decibels_per_kilometre(0.4))) -
                      row.km * 1000) < 1e-3);
    }
}

// Derived: the worst case of 10 km x 0.40 + 4 x 0.50 + 6 x 0.12 + 17.2 (1:32) is 23.920 dB.
TEST_CASE("worst case of a 10 km path with a 1:32: 23.920 dB") {
  LitEstate e;
  e.split({{SplitterPlace::cabinet, 32}});
  e.add_splitter(32, 17.2);
  StationId at = e.station(StationKind::cabinet, e.headend(), {0, 0}, metres(4000));
  at = e.station(StationKind::cabinet, at, {0, 1}, metres(5900));
  e.demand.premises[e.premises(at, 1, metres(100))].building_point = true;
  e.optic_rules.splice_max = decibels(0.12);
  e.optic_rules.margin = Loss();
  e.optic_rules.connectors_at_headend = e.optic_rules.connectors_at_outlet = 2;
  e.optic_rules.optical_class = e.add_class("B+", 13, 28);
  CHECK(about(e.light().ledgers[DwellingId(0u)].up_max, 23.920));
}
