// Whole outputs as files: what a change does to a plan is a diff to be read.
//
//   hamlet/*    every report of scenarios/hamlet.yaml, as in its plan folder, but for the scenario as used:
//               that is input, and its notes move with every line of the shipped data.
//   village/*   its summary, the comparison of its edits, and in hashes.txt a hash of every table of the base
//               and of every edit ("sheets" is one hash over all of them).
//
// A change that is meant is accepted by `tests/golden/accept [build folder]`, which runs this program with
// WITHY_ACCEPT=1: the files are written anew, and what they say now is read in the diff before it is kept.
#include <cstdlib>
#include <fstream>
#include <list>

#include "laws/planned.h"

using namespace plan;
namespace fs = std::filesystem;

namespace {

const fs::path golden_folder = fs::path(WITHY_SOURCE) / "tests/golden";

bool accepting() {
  const char* told = std::getenv("WITHY_ACCEPT");
  return told && std::string_view(told) == "1";
}

FolderTexts read_folder(const fs::path& folder) {
  FolderTexts texts;
  if (!fs::exists(folder)) return texts;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file())
      texts[fs::relative(entry.path(), folder).generic_string()] = withy::must_read(entry.path());
  return texts;
}

void write_folder(const fs::path& folder, const FolderTexts& texts) {
  fs::remove_all(folder);
  for (const auto& entry : texts) {
    fs::create_directories((folder / entry.first).parent_path());
    std::ofstream file(folder / entry.first, std::ios::binary);
    file << entry.second;
    REQUIRE_MESSAGE(file.good(), entry.first);
  }
}

// Every file that differs, with its first difference: `-` is the golden file, `+` the plan.
std::string differences(const FolderTexts& golden, const FolderTexts& now) {
  std::string all;
  for (const auto& [name, text] : golden)
    all += now.contains(name) ? difference(name, text, now.at(name))
                              : fmt::format("{}: is not written any more\n", name);
  for (const auto& [name, text] : now)
    if (!golden.contains(name)) all += fmt::format("{}: has no golden file\n", name);
  return all.empty() ? all : all + "if this is meant: tests/golden/accept\n";
}

void check_golden(const std::string& name, const FolderTexts& now) {
  if (accepting()) {
    write_folder(golden_folder / name, now);
    MESSAGE("accepted: tests/golden/" << name);
  }
  CHECK(differences(read_folder(golden_folder / name), now) == "");
}

// One line a table: hash, plan, file. The sheets together are one line.
std::string hashes(const std::string& plan_name, const FolderTexts& folder) {
  std::string lines;
  uint64_t sheets = hash64("");
  for (const auto& [name, text] : folder) {
    if (name == "scenario.yaml") continue;
    if (name.starts_with("sheets/"))
      sheets = hash64(text, hash64(name, sheets));
    else
      lines += fmt::format("{} {}: {}\n", hex16(hash64(text)), plan_name, name);
  }
  return lines + fmt::format("{} {}: sheets\n", hex16(sheets), plan_name);
}

}  // namespace

TEST_CASE("every report of hamlet") {
  FolderTexts folder = written(planned(shipped("hamlet")));
  folder.erase("scenario.yaml");
  check_golden("hamlet", folder);
}

TEST_CASE("the village and its edits") {
  const FolderTexts texts = shipped("village");
  const Scenario scenario = scenario_in(texts);
  const Plan base = planned(scenario);
  const FolderTexts folder = written(base);
  FolderTexts now{{"summary.txt", folder.at("summary.txt")}, {"hashes.txt", hashes("base", folder)}};
  std::list<Plan> plans;  // addresses stay
  std::vector<Variant> variants{{"base", &base}};
  for (const Edit& edit : scenario.edits) {
    const Result<Scenario> changed = edited(files_in(texts), scenario, edit);
    REQUIRE_MESSAGE(changed.value.has_value(), told(changed.diagnostics));
    plans.push_back(make_plan(*changed, &base, edit.hold, {.threads = 1}));
    variants.push_back({edit.name, &plans.back()});
    now["hashes.txt"] += hashes(edit.name, written(plans.back()));
  }
  CHECK(variants.size() >= 7);  // the base and at least six edits
  write_comparison(variants, [&](std::string_view piece) { now["comparison.csv"] += piece; });
  now["comparison.txt"] = comparison_text(variants);
  check_golden("village", now);
}

TEST_CASE("a difference names file, line and both texts") {
  CHECK(differences({{"a.csv", "x\ny\n"}}, {{"a.csv", "x\nz\n"}}) ==
        "a.csv:2:1 differs\n  - y\n  + z\nif this is meant: tests/golden/accept\n");
  CHECK(differences({{"a.csv", "x\n"}}, {}) ==
        "a.csv: is not written any more\nif this is meant: tests/golden/accept\n");
  CHECK(differences({}, {{"a.csv", "x\n"}}) ==
        "a.csv: has no golden file\nif this is meant: tests/golden/accept\n");
  CHECK(differences({{"a.csv", "x\n"}}, {{"a.csv", "x"}}) != "");
  CHECK(differences({{"a.csv", "x\n"}}, {{"a.csv", "x\n"}}) == "");
}
