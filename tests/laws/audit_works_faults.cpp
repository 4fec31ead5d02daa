// Planted faults in what is bought and done, and in the sums of the report.
#include "laws/planted.h"

namespace plan {
namespace {

bool by_the_metre(const std::string& unit) {
  return unit == "m";
}

const std::vector<Plant> of_drums = {
    {"cut-missing", "drums.csv", [](TableText& t) { t.drop(t.rows() - 1); }},
    {"cut-twice", "drums.csv", [](TableText& t) { t.at(1, "run") = t.at(0, "run"); }},
    {"cuts-overlap", "drums.csv", [](TableText& t) { raise(t.at(1, "metre in"), -1); }},
    {"cut-out-of-order", "drums.csv", [](TableText& t) { raise(t.at(1, "metre in"), 1); }},
    {"cut-out-of-order", "drums.csv", [](TableText& t) { t.swap(0, 1, "cut"); }},
    {"cut-beyond-drum", "drums.csv", [](TableText& t) { t.at(0, "length") = "1.000"; }},
    {"cut-length-differs", "drums.csv",
     [](TableText& t) { raise(t.at(t.row("link", filled), "metre out"), 1); }},
    {"cut-length-differs", "drums.csv",
     [](TableText& t) { raise(t.at(t.row("run", filled), "metre out"), 1); }},
    {"cut-of-nothing", "drums.csv", [](TableText& t) { t.at(t.row("link", filled), "link") = "21"; }},
    {"cut-of-nothing", "drums.csv", [](TableText& t) { t.at(0, "run").clear(); }},
    {"drum-differs", "drums.csv", [](TableText& t) { t.at(0, "item") = "2 x 7/3.5 mm bundle"; }},
    {"drum-differs", "drums.csv", [](TableText& t) { t.at(t.rows() - 1, "length") = "6000.000"; }},
};

const std::vector<Plant> of_bill = {
    {"bill-quantity-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("group", "civil"), "needed"), 1); }},
    {"bill-quantity-differs", "bill-of-materials.csv",
     [](TableText& t) { t.at(t.row("item", "outlet"), "needed") = "20.000"; }},
    {"bill-quantity-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("item", "2-fibre unit"), "needed"), 1); }},
    {"bill-quantity-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("item", "7 mm end stop"), "needed"), 1000); }},
    {"bill-quantity-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("item", "splice"), "needed"), 1000); }},
    {"bill-line-missing", "bill-of-materials.csv", [](TableText& t) { t.drop(t.row("item", "outlet")); }},
    {"bill-amount-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("unit", by_the_metre), "amount"), 1); }},
    {"bill-amount-differs", "bill-of-materials.csv", [](TableText& t) { t.at(0, "price").clear(); }},
    {"price-differs", "bill-of-materials.csv", [](TableText& t) { raise(t.at(0, "price"), 1); }},
    {"ordered-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("item", "outlet"), "packs"), 1); }},
    {"ordered-differs", "bill-of-materials.csv",
     [](TableText& t) { raise(t.at(t.row("item", "2-fibre unit"), "ordered"), 1000); }},
    {"order-date-differs", "bill-of-materials.csv",
     [](TableText& t) { t.at(t.row("group", "material"), "order by") = "2027-04-01"; }},
};

const std::vector<Plant> of_programme = {
    {"task-too-early", "programme.csv",
     [](TableText& t) {
       const size_t row = t.row("kind", "connect");
       t.at(row, "start") = "0";
       t.at(row, "finish") = t.at(row, "minutes");
     }},
    {"task-cycle", "programme.csv", [](TableText& t) { t.at(0, "before") = "19"; }},
    {"crew-in-two-places", "programme.csv", [](TableText& t) { t.at(1, "crew") = t.at(0, "crew"); }},
    {"crew-without-skill", "programme.csv",
     [](TableText& t) { t.at(t.row("kind", "splice"), "crew") = t.at(0, "crew"); }},
    {"crew-unknown", "programme.csv", [](TableText& t) { t.at(0, "crew") = "Nobody"; }},
    {"task-uncrewed", "programme.csv", [](TableText& t) { t.at(0, "crew").clear(); }},
    {"task-duration-differs", "programme.csv", [](TableText& t) { raise(t.at(0, "finish"), 1); }},
    {"task-split", "programme.csv",
     [](TableText& t) {
       const size_t row = t.row("kind", "connect");
       t.at(row, "start") = "30000";
       t.at(row, "finish") = std::to_string(30000 + std::stoi(t.at(row, "minutes")));
       t.at(row, "start") = std::to_string(480 * 70 - 1);
       t.at(row, "finish") = std::to_string(480 * 70 - 1 + std::stoi(t.at(row, "minutes")));
     }},
    {"predecessor-missing", "programme.csv",
     [](TableText& t) { t.at(t.row("kind", "blow"), "before").clear(); }},
    {"programme-amount-differs", "programme.csv", [](TableText& t) { raise(t.at(0, "amount"), 1); }},
    {"word-unknown", "programme.csv", [](TableText& t) { t.at(0, "kind") = "rest"; }},
};

const std::vector<Plant> of_orders = {
    {"order-amount-differs", "work-orders.csv", [](TableText& t) { raise(t.at(0, "amount"), 1); }},
    {"stop-outside-shift", "work-orders.csv", [](TableText& t) { t.at(0, "to") = "481"; }},
    {"stops-overlap", "work-orders.csv", [](TableText& t) { t.at(t.row("stop", "2"), "from") = "1"; }},
    {"stop-out-of-order", "work-orders.csv", [](TableText& t) { t.at(t.row("stop", "2"), "stop") = "3"; }},
    {"day-off-worked", "work-orders.csv", [](TableText& t) { t.at(0, "date") = "2027-03-07"; }},
    {"order-differs", "work-orders.csv",
     [](TableText& t) { t.at(t.row("stop", "2"), "date") = "2027-03-02"; }},
    {"order-crew-differs", "work-orders.csv", [](TableText& t) { t.at(0, "crew") = "Splice"; }},
    {"order-task-differs", "work-orders.csv", [](TableText& t) { t.at(0, "kind") = "lay"; }},
    {"order-time-differs", "work-orders.csv", [](TableText& t) { raise(t.at(0, "to"), -1); }},
    {"order-time-differs", "work-orders.csv", [](TableText& t) { t.at(0, "continued") = "1"; }},
    {"task-not-ordered", "work-orders.csv", [](TableText& t) { t.drop(t.rows() - 1); }},
    {"id-out-of-range", "work-orders.csv", [](TableText& t) { t.at(0, "task") = "9999"; }},
};

const std::vector<Plant> of_sums = {
    {"reconciliation-open", "reconciliation.csv", [](TableText& t) { raise(t.at(0, "spare"), 1); }},
    {"reconciliation-open", "reconciliation.csv", [](TableText& t) { t.at(0, "difference") = "1"; }},
    {"reconciliation-differs", "reconciliation.csv",
     [](TableText& t) {
       raise(t.at(0, "given"), 1);
       raise(t.at(0, "spare"), 1);
     }},
    {"reconciliation-missing", "reconciliation.csv", [](TableText& t) { t.drop(0); }},
    {"finding-unknown", "findings.csv", [](TableText& t) { t.at(0, "kind") = "note"; }},
    {"summary-differs", "findings.csv", [](TableText& t) { t.repeat(0); }},
    {"summary-differs", "spans.csv", [](TableText& t) { raise(t.at(0, "opening cost"), 1); }},
    {"summary-differs", "bill-of-materials.csv", [](TableText& t) { raise(t.at(0, "amount"), 1); }},
};

TEST_CASE("planted faults of drums and the bill are named") {
  expect_all_told(sound_hamlet(), of_drums);
  expect_all_told(sound_hamlet(), of_bill);
}

TEST_CASE("planted faults of the programme and the work orders are named") {
  expect_all_told(sound_hamlet(), of_programme);
  expect_all_told(sound_hamlet(), of_orders);
}

TEST_CASE("planted faults of sums are named") {
  expect_all_told(sound_hamlet(), of_sums);
  FolderTexts folder = sound_hamlet();
  std::string& summary = folder["summary.json"];
  const std::string lit = "\"premises_lit\": 17";
  REQUIRE(summary.find(lit) != std::string::npos);
  summary.replace(summary.find(lit), lit.size(), "\"premises_lit\": 18");
  CHECK(tells(audited(folder), "summary-differs"));
}

}  // namespace
}  // namespace plan
