// Written tables read back: what a field becomes, and what a damaged one does not.
#include <doctest/doctest.h>

#include "base/date.h"
#include "record/written_plan.h"

namespace plan {
namespace {

struct Told {
  std::string_view rule;
  uint32_t line;
};

struct ReadBack {
  Words words;
  std::vector<Told> told;
  WrittenTable table;
};

ReadBack read_back(std::string_view file, std::string rows) {
  std::string text;
  for (const Column& c : table_schema(file).columns) text += (text.empty() ? "" : ",") + std::string(c.name);
  ReadBack out;
  out.table = read_table(table_schema(file), text + "\r\n" + rows, out.words,
                         [&](std::string_view rule, uint32_t line, const std::string&) {
                           out.told.push_back({rule, line});
                         });
  return out;
}

TEST_CASE("cells: numbers in their last decimal, texts by number, dates by day, nothing where empty") {
  const ReadBack r = read_back("drums.csv",
                               "0,\"4 x 7/3.5 mm, grey\",2000.000,1,0.000,12.345,7,,2027-03-01\r\n"
                               "1,'-odd,2000,2,-0.5,3.25,,4,1970-01-02\r\n");
  REQUIRE(r.told.empty());
  REQUIRE(r.table.rows() == 2);
  CHECK(r.table["metre out"][0] == 12345);
  CHECK(r.table["metre in"][1] == -500);
  CHECK(r.table["length"][1] == 2000000);
  CHECK(r.table["link"][0] == no_cell);
  CHECK(r.table["first use"][0] == date_of(2027, 3, 1).days);
  CHECK(r.words[r.table["item"][0]] == "4 x 7/3.5 mm, grey");
  CHECK(r.words[r.table["item"][1]] == "-odd");  // guarded against formulas when written
  CHECK(r.words.find("4 x 7/3.5 mm, grey") == r.table["item"][0]);
  CHECK(r.words.find("never read") == Words::no_word);
  CHECK(r.table.line(1) == 3);
}

TEST_CASE("lists of ids, and nothing outside a column") {
  const ReadBack r = read_back("runs.csv", "0,b,4,drop,0,1,2,3.000,5 6 70\r\n1,b,4,drop,0,1,2,3.000,\r\n");
  REQUIRE(r.told.empty());
  const auto list = r.table.list("spans")[0];
  CHECK(std::vector<uint32_t>(list.begin(), list.end()) == std::vector<uint32_t>{5, 6, 70});
  CHECK(r.table.list("spans")[1].empty());
  CHECK(r.table.list("spans")[2].empty());
  CHECK(r.table["run"][2] == no_cell);
  CHECK(r.table["run"][-1] == no_cell);
  CHECK(r.table["run"][no_cell] == no_cell);
  CHECK(r.table.line(no_cell) == 0);
}

TEST_CASE("malformed fields are told with their line and stay empty") {
  for (const char* bad : {"1.5", "x", "1e3", "--1", "1 ", "+1", "99999999999999999999", "0x1"}) {
    CAPTURE(bad);
    const ReadBack r = read_back("pons.csv", "0,H,1,1,1,0.000\r\n" + std::string(bad) + ",H,1,1,1,0.000\r\n");
    REQUIRE(r.told.size() == 1);
    CHECK(r.told[0].rule == "field-malformed");
    CHECK(r.told[0].line == 3);
    CHECK(r.table["pon"][1] == no_cell);
  }
  for (const char* bad : {"1.2345", "1.", ".5", "-", "1,5"})
    CHECK(read_back("pons.csv", "0,H,1,1,1," + std::string(bad) + "\r\n").told.size() == 1);
  for (const char* bad : {"1 x", "1  2", "-1", "4294967295", "1.0"})
    CHECK(read_back("runs.csv", "0,b,4,drop,0,1,2,3.000," + std::string(bad) + "\r\n").told.size() == 1);
  CHECK(read_back("pons.csv", "0,H,1\r\n").told[0].rule == "table-malformed");
  CHECK(read_back("pons.csv", "0,\"H,1,1,1,0.000\r\n").told[0].rule == "table-malformed");
}

TEST_CASE("other columns, or none") {
  Words words;
  std::vector<std::string> rules;
  const TableTell tell = [&](std::string_view rule, uint32_t, const std::string&) {
    rules.emplace_back(rule);
  };
  CHECK(read_table(table_schema("pons.csv"), "a,b\r\n1,2\r\n", words, tell).rows() == 0);
  CHECK(read_table(table_schema("pons.csv"), "", words, tell).rows() == 0);
  CHECK(rules == std::vector<std::string>{"header-differs", "table-malformed"});
}

TEST_CASE("the scenario of a plan whose estate stands in files elsewhere") {
  const auto read = [](const std::string& scenario) {
    const auto texts = [&](std::string_view file) {
      if (file == "scenario.yaml") return scenario;
      std::string header;
      if (file.ends_with(".csv"))
        for (const Column& c : table_schema(file).columns)
          header += (header.empty() ? "" : ",") + std::string(c.name);
      return header + "\r\n";
    };
    return read_written_plan(texts, [](std::string_view, std::string_view, uint32_t, const std::string&) {});
  };
  const std::string head = "scenario: Far\nstart: 2027-03-01\n";
  const std::string rest =
      "headends:\n  - name: Exchange\n    at: [500339.827, 5400381.281]\n    OLT ports: 7\n"
      "site:\n  blocked routes:\n    Fair Lane:\n      why: fair\nfibre:\n  take-up: 40 %\n";
  const WrittenPlan far = read(head + "estate:\n  premises: p.geojson\n  routes: r.geojson\n" + rest);
  CHECK(far.scenario_known);
  CHECK_FALSE(far.estate_known);
  CHECK(far.scenario.fibre_rules->take_up == doctest::Approx(0.4));
  CHECK(far.scenario.demand->headends[HeadendId(0U)].olt_ports == 7);

  const WrittenPlan here =
      read(head +
           "estate:\n  premises:\n    - name: 1 Fair Lane\n      at: [0, 5]\n  routes:\n"
           "    - name: Fair Lane\n      line: [[0, 0], [20, 0]]\n      surface: verge\n" +
           rest.substr(0, rest.find("    at:")) + "    at: [0, -5]\n");
  CHECK(here.estate_known);
  CHECK(here.scenario.demand->premises.size() == 1);
  CHECK_FALSE(read("scenario: [").scenario_known);
}

}  // namespace
}  // namespace plan
