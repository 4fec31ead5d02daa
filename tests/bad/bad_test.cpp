// One fault a file: each tests/bad/*.yaml is a whole scenario but for what its comments say.
//
//   surface: vurge}  # error: 60: unknown surface 'vurge', did you mean 'verge'
//       in the faulty line: the column, then the exact message; several faults of a line follow each other
//   # error in tables/ragged.csv:3:1: row has 2 fields, the header has 3
//       in the first lines: a fault in another file, or (without line and column) of a file as a whole
//   # schema: cannot see
//       in the first line: a fault that no JSON Schema can see (read by tests/schema/check.mjs)
//
// The scenario must be refused with these diagnostics and no other. A file is read as bytes, so a
// comment also speaks where the text around it is not UTF-8 or stands inside an open quote.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "base/text.h"
#include "files/disk.h"
#include "files/tables.h"

using namespace plan;
namespace fs = std::filesystem;

namespace {

const fs::path folder = fs::path(WITHY_SOURCE) / "tests/bad";

// File names in messages and places are then those that the comments use.
struct InFolder {
  fs::path before = fs::current_path();
  InFolder() { fs::current_path(folder); }
  ~InFolder() { fs::current_path(before); }
};

std::vector<std::string> bad_scenarios() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

std::string told(const Diagnostic& d) {
  const std::string place = d.place.line == 0 ? "" : fmt::format(":{}:{}", d.place.line, d.place.column);
  return fmt::format("{}{}: {}", d.place.file, place, d.message);
}

void expect_in_line(const std::string& file, size_t number, std::string_view line,
                    std::vector<std::string>& all) {
  constexpr std::string_view elsewhere = "# error in ", here = "# error: ";
  if (const size_t at = line.find(elsewhere); at != std::string_view::npos)
    all.emplace_back(line.substr(at + elsewhere.size()));
  for (size_t at = line.find(here); at != std::string_view::npos;) {
    const size_t begin = at + here.size();
    at = line.find(here, begin);
    const std::string_view rest = line.substr(begin, at - begin);
    all.push_back(fmt::format("{}:{}:{}", file, number, trimmed(rest)));
  }
}

std::vector<std::string> expected_of(const std::string& file) {
  const std::string text = withy::must_read(file);
  std::vector<std::string> all;
  size_t number = 0;
  for (const std::string_view line : split(text, '\n')) expect_in_line(file, ++number, line, all);
  std::sort(all.begin(), all.end());
  return all;
}

Diagnostics faults_of_file(const std::string& file) {
  const Result<Scenario> s = read_scenario(withy::disk_files(), file);
  CHECK_FALSE(s.value.has_value());
  return s.diagnostics;
}

std::string rendered_of(const std::string& file) {
  std::string text;
  for (const Diagnostic& d : faults_of_file(file)) text += rendered(d);
  return text;
}

}  // namespace

TEST_CASE("every bad scenario is refused with exactly what its comments say") {
  const InFolder in_folder;
  const std::vector<std::string> names = bad_scenarios();
  CHECK(names.size() >= 200);
  for (const std::string& name : names) {
    CAPTURE(name);
    const std::vector<std::string> expected = expected_of(name);
    CHECK_FALSE(expected.empty());
    std::vector<std::string> found;
    for (const Diagnostic& d : faults_of_file(name)) found.push_back(told(d));
    std::sort(found.begin(), found.end());
    const auto lines = [](const std::vector<std::string>& all) {
      std::string text;
      for (const std::string& line : all) text += "\n  " + line;
      return text;
    };
    CHECK(lines(found) == lines(expected));
  }
}

TEST_CASE("messages begin in lower case, end without a full stop and stay short") {
  const InFolder in_folder;
  for (const std::string& name : bad_scenarios())
    for (const Diagnostic& d : faults_of_file(name)) {
      CAPTURE(told(d));
      CHECK_FALSE((d.message[0] >= 'A' && d.message[0] <= 'Z'));
      CHECK(d.message.back() != '.');
      CHECK(d.message.size() < 260);
      CHECK(d.message.find('\n') == std::string::npos);
    }
}

TEST_CASE("the source line is shown with a caret as wide as what is wrong") {
  const InFolder in_folder;
  CHECK(
      rendered_of("amount-absurd.yaml") ==
      "amount-absurd.yaml:16:20: 'supply pressure' is 400 bar, expected 1 bar to 20 bar\n"
      "      supply pressure: 400 bar  # error: 20: 'supply pressure' is 400 bar, expected 1 bar to 20 bar\n"
      "                       ^~~~~~~\n");
  CHECK(rendered_of("key-twice.yaml") ==
        "key-twice.yaml:14:1: key 'class' stands twice, first in line 11\n"
        "    class: GPON C+  # error: 1: key 'class' stands twice, first in line 11\n"
        "    ^~~~~\n");
  CHECK(rendered_of("yaml-second-document.yaml") ==
        "yaml-second-document.yaml:14:1: a second document begins here, one file holds one document\n"
        "    ---  # error: 1: a second document begins here, one file holds one document\n"
        "    ^\n");
  // A tab before the fault is repeated below it, so that the caret stands under the fault.
  CHECK(rendered_of("yaml-tab.yaml").find("\n    ^\n") != std::string::npos);
  // A table's rows are not kept: place and message only.
  CHECK(rendered_of("table-csv-number.yaml") ==
        "tables/number.csv:2:18: 'dwellings' is 'one', expected a whole number\n"
        "tables/number.csv:3:13: 'at' is no position of two numbers, such as [12.5, 40], in metres east and "
        "north\n");
}
