// The program as a black box: what each command besides `plan` does.
#include <nlohmann/json.hpp>

#include "laws/row.h"
#include "laws/run_program.h"

using namespace plan;

TEST_CASE("check says what a scenario holds, and prints it as used: the print is the same plan") {
  const Scratch scratch;
  scratch.write("row.yaml", row_with(edits));
  const Ended e = run_program(scratch, {"check", "row.yaml"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  CHECK(e.output == "row.yaml: well formed; 3 premises, 1 route, 1 headend, 0 sites, 2 edits\n");
  const Ended used = run_program(scratch, {"check", "row.yaml", "--effective"});
  CHECK(used.code == 0);
  CHECK(used.error == "");
  scratch.write("used.yaml", used.output);
  CHECK(run_program(scratch, {"plan", "row.yaml", "--out", "a"}).code == 0);
  CHECK(run_program(scratch, {"plan", "used.yaml", "--out", "b"}).code == 0);
  CHECK(difference(tables(scratch.folder("a")), tables(scratch.folder("b"))) == "");
  CHECK(scratch.read("a/scenario.yaml") == used.output);
}

TEST_CASE("check --plan finds what somebody changed in a plan folder") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  REQUIRE(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  const Ended sound = run_program(scratch, {"check", "--plan", "plan"});
  CHECK(sound.code == 0);
  CHECK(sound.error == "");
  std::string pons = scratch.read("plan/pons.csv");
  pons.insert(pons.size() - 2, "7");
  scratch.write("plan/pons.csv", pons);
  const Ended changed = run_program(scratch, {"check", "--plan", "plan"});
  CHECK(changed.code == 1);
  CHECK(changed.output.find("pons.csv") != std::string::npos);
}

TEST_CASE("schema prints JSON, and the pages of docs") {
  const Scratch scratch;
  const Ended e = run_program(scratch, {"schema"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  REQUIRE(nlohmann::json::accept(e.output));
  CHECK(nlohmann::json::parse(e.output).at("$schema") == "https://json-schema.org/draft/2020-12/schema");
  for (const char* page : {"scenario", "numbers", "outputs"}) {
    const Ended printed = run_program(scratch, {"schema", "--page", page});
    CHECK(printed.code == 0);
    CHECK(difference(
              page,
              withy::must_read(std::filesystem::path(WITHY_SOURCE) / "docs" / fmt::format("{}.md", page)),
              printed.output) == "");
  }
}

TEST_CASE("whatif plans every edit beside the base and compares them") {
  const Scratch scratch;
  scratch.write("row.yaml", row_with(edits));
  const Ended e = run_program(scratch, {"whatif", "row.yaml", "--out", "variants"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  const FolderTexts folder = scratch.folder("variants");
  const std::vector<Names> comparison = rows_of(folder.at("comparison.csv"));
  REQUIRE(comparison.size() == 4);
  CHECK(comparison[0][0] == "variant");
  CHECK(comparison[1][0] == "base");
  CHECK(comparison[2][0] == "1:64");
  CHECK(comparison[3][0] == "dear verge");
  CHECK(folder.contains("summaries/dear-verge.txt"));
  CHECK(e.output.starts_with(folder.at("comparison.txt")));
  CHECK(e.output.find("dear verge: kept 10 stages; ran bom, orders\n") != std::string::npos);
  // Each variant is what planning the edited scenario alone gives.
  std::string alone(row);
  alone.replace(alone.find("1:32"), 4, "1:64");
  scratch.write("alone.yaml", alone);
  REQUIRE(run_program(scratch, {"plan", "alone.yaml", "--out", "alone"}).code == 0);
  CHECK(difference("summary", folder.at("summaries/1-64.txt"), scratch.read("alone/summary.txt")) == "");

  scratch.write("plain.yaml", row);
  CHECK(run_program(scratch, {"whatif", "plain.yaml", "--out", "variants"}).code == 0);
  CHECK(rows_of(scratch.read("variants/comparison.csv")).size() == 2);
}

TEST_CASE("invent writes an estate that plans, the same one for the same seed") {
  const Scratch scratch;
  const Ended e = run_program(scratch, {"invent", "--premises", "40", "--seed", "9", "--out", "town"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  const FolderTexts town = scratch.folder("town");
  REQUIRE(run_program(scratch, {"invent", "--premises", "40", "--seed", "9", "--out", "town"}).code == 0);
  CHECK(scratch.folder("town") == town);
  REQUIRE(run_program(scratch, {"invent", "--premises", "40", "--seed", "10", "--out", "town"}).code == 0);
  CHECK(scratch.folder("town") != town);
  CHECK(run_program(scratch, {"plan", "town/scenario.yaml", "--out", "plan"}).code <= 1);
  CHECK(rows_of(scratch.read("plan/premises.csv")).size() == 41);
}

TEST_CASE("sheets are printed again for some days, from unchanged sources only") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  REQUIRE(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  const Names days{"--from", "2027-03-01", "--to", "2027-12-31"};
  const auto sheets = [&](Names words) {
    words.insert(words.end(), days.begin(), days.end());
    return run_program(scratch, words);
  };
  const Ended e = sheets({"sheets", "plan", "--out", "again"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  for (const auto& [file, text] : scratch.folder("plan/sheets")) {
    const std::string& name = file;
    CAPTURE(name);
    CHECK(scratch.folder("again").at("sheets/" + name) == text);
  }
  CHECK(
      run_program(scratch, {"sheets", "plan", "--from", "Monday", "--to", "2027-03-05", "--out", "x"}).code ==
      2);
  scratch.write("row.yaml", row_with("note: later\n"));
  CHECK(sheets({"sheets", "plan", "--out", "late"}).code == 2);
  CHECK_FALSE(scratch.has("late"));
  CHECK_FALSE(scratch.has("x"));
}

TEST_CASE("explain knows the plan by names") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  REQUIRE(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  const Ended e = run_program(scratch, {"explain", "plan", "1 Mill Lane"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  CHECK(e.output.find("1 Mill Lane") != std::string::npos);
  const Ended none = run_program(scratch, {"explain", "plan", "1 Mill Lain"});
  CHECK(none.code == 2);
  CHECK(none.error == "plan: nothing is called '1 Mill Lain', did you mean '1 Mill Lane'\n");
}
TEST_CASE("a sheet says who builds a crossing and where leave has to be asked") {
  const Scratch scratch;
  scratch.write("hill.yaml", R"(
scenario: Hill
start: 2027-03-01
estate:
  premises: [{name: 1 Hill Lane, at: [400, 8]}]
  routes:
    - {name: Hill Lane, line: [[0, 0], [300, 0]], surface: verge, restricted: private}
    - {name: under the line, line: [[300, 0], [312, 0]], surface: verge, crossing: rail, drops: no}
    - {name: upper Hill Lane, line: [[312, 0], [500, 0]], surface: verge}
headends: [{name: Mill, at: [0, -6], microduct entries: 24}]
class: GPON B+
split: [{at: headend, ratio: 1:16}]
crossings: {rail: {built by: the railway's own contractor}}
)");
  CHECK(run_program(scratch, {"plan", "hill.yaml", "--out", "plan"}).code <= 1);
  std::string all;
  for (const auto& [file, text] : scratch.folder("plan/sheets")) all += text;
  CHECK(all.find("crossing rail, built by the railway's own contractor") != std::string::npos);
  CHECK(all.find("way restricted: private") != std::string::npos);
}
