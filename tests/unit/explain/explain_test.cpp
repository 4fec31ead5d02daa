// What `withy explain` says, against the tables it reads and a hamlet that is known by heart.
#include "explain/explain.h"

#include <doctest/doctest.h>

#include <array>
#include <sstream>

#include "laws/planned.h"

namespace plan {
namespace {

WrittenPlan read_back(const FolderTexts& folder) {
  return read_written_plan([&](std::string_view file) { return folder.at(std::string(file)); },
                           [](std::string_view rule, std::string_view, uint32_t, const std::string& message) {
                             FAIL(std::string(rule) << message);
                           });
}

const WrittenPlan& hamlet() {
  static const WrittenPlan plan = read_back(written(planned(shipped("hamlet"))));
  return plan;
}
const WrittenPlan& village() {
  static const WrittenPlan plan = read_back(written(planned(shipped("village"))));
  return plan;
}

std::string told_of(const WrittenPlan& plan, std::string_view id) {
  const auto text = withy::explained(plan, id);
  REQUIRE_MESSAGE(text.has_value(), std::string(id));
  return *text;
}
bool says(const std::string& text, std::string_view what) {
  return text.find(what) != std::string::npos;
}
size_t lines_with(const std::string& text, std::string_view what) {
  size_t n = 0;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) n += says(line, what) ? 1 : 0;
  return n;
}
// The last four numbers of the first line that begins so.
std::vector<std::string> losses_on(const std::string& text, const std::string& beginning) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("  " + beginning)) continue;
    std::istringstream fields(line);
    std::vector<std::string> all;
    for (std::string field; fields >> field;) all.push_back(field);
    return {all.end() - 4, all.end()};
  }
  return {};
}

TEST_CASE("premises: state, duct path section by section, blow, ledger") {
  const std::string text = told_of(hamlet(), "Old Maltings");
  CHECK(says(text, "premises Old Maltings: lit; connect at build, drop laid to door; 4 dwellings"));
  CHECK(lines_with(text, "  section ") == 3);  // bundle to the corner, bundle up Reed Row, drop
  CHECK(says(text, "blow: passes; launched from branch point"));
  CHECK(lines_with(text, "splice at building point") == 1);  // one ledger, three dwellings like it
  CHECK(lines_with(text, "the same parts and losses as dwelling 1") == 3);
  CHECK(lines_with(text, "connect") >= 4);
}

TEST_CASE("premises on order and out of reach") {
  const std::string reserved = told_of(hamlet(), "4 Osier Lane");
  CHECK(says(reserved, "reserved; connect on order, drop laid to boundary; 1 dwelling;"));
  CHECK(says(reserved, "duct path, 1 section:"));
  const std::string barn = told_of(hamlet(), "Far Barn");
  CHECK(says(barn, "unserved"));
  CHECK(says(barn, "finding: no route leads here from a headend; the nearest reached node is 400.4 m away"));
}

TEST_CASE("the lines of a ledger add up to the table") {
  for (const WrittenPlan* plan : {&hamlet(), &village()})
    for (size_t d = 0; d < (*plan)["dwellings.csv"].rows(); d += 7) {
      const std::string text = told_of(*plan, "dwelling " + std::to_string(d));
      const auto sum = losses_on(text, "sum"), table = losses_on(text, "the table says");
      REQUIRE(sum.size() == 4);
      CHECK(sum == table);
      std::array<double, 4> parts{};
      for (const WrittenLoss& part : written_losses(*plan, d)) {
        parts[0] += in_decibels(part.down_most), parts[1] += in_decibels(part.down_least);
        parts[2] += in_decibels(part.up_most), parts[3] += in_decibels(part.up_least);
      }
      for (size_t k = 0; k < 4; ++k) CHECK(std::stod(table[k]) == doctest::Approx(parts[k]).epsilon(0.00005));
    }
}

// A microduct is told once in each span of its run: as many lines as the bundles there have ways.
TEST_CASE("span: every microduct of every bundle in it") {
  for (const WrittenPlan* plan : {&hamlet(), &village()}) {
    const WrittenTable& spans = (*plan)["spans.csv"];
    for (size_t row = 0; row < spans.rows(); row += 5) {
      size_t ways = 0;
      for (const uint32_t run : spans.list("runs")[row])
        ways += static_cast<size_t>((*plan)["runs.csv"]["ways"][run]);
      const std::string text = told_of(*plan, "span " + std::to_string(spans["span"][row]));
      CHECK(lines_with(text, "  section ") == ways);
    }
  }
}

TEST_CASE("stations, links, runs, nodes, splitters, PONs, tasks") {
  CHECK(says(told_of(village(), "cabinet 1"), "microduct entries limit 96"));
  CHECK(says(told_of(hamlet(), "Mill"), "the light begins here"));
  CHECK(says(told_of(hamlet(), "link 0"), "from Forge to branch point 1"));
  CHECK(says(told_of(hamlet(), "run 1"), "cut from drum"));
  CHECK(says(told_of(hamlet(), "node 18"), "branch point with "));
  CHECK(says(told_of(hamlet(), "splitter 2"), "fed by port 1 of splitter 0 over fibre 1 of the feed"));
  CHECK(says(told_of(hamlet(), "PON 1"), "15 dwellings day one, 16 ultimate"));
  CHECK(says(told_of(hamlet(), "task 0"), "dig"));
  CHECK(says(told_of(hamlet(), "section 0"), "block connector"));
}

TEST_CASE("a bill line: quantity, price, reasons and areas") {
  const std::string verge = told_of(hamlet(), "open verge");
  CHECK(says(verge, "added up from: span opened"));
  CHECK(says(verge, "in the area of Forge"));
  CHECK(says(told_of(hamlet(), "1:4 splitter"), "1 piece in the area of Mill"));
  CHECK(says(told_of(village(), "street cabinet, 96 entries"), "1 piece in the area of cabinet 5"));
}

TEST_CASE("what is not there has a nearest name") {
  CHECK_FALSE(withy::explained(hamlet(), "7 Osier Lan").has_value());
  CHECK(withy::nearest_id(hamlet(), "7 Osier Lan") == "7 Osier Lane");
  for (const char* id : {"", "span", "span x", "span -1", "span 99999", "link 22", "node 4711",
                         "PON 18446744073709551616", "dwelling 22"})
    CHECK_FALSE(withy::explained(hamlet(), id).has_value());
  CHECK_FALSE(withy::nearest_id(hamlet(), "zzzzzzzzzzzz").has_value());
}

}  // namespace
}  // namespace plan
