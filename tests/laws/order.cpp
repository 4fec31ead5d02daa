// Order, threads and repetition change nothing: ids follow the estate, never the file.
#include <algorithm>
#include <random>
#include <vector>

#include "laws/planned.h"

using namespace plan;

namespace {

// Fisher and Yates with an own draw: the standard's shuffle differs between libraries.
template <class T>
void shuffle(std::vector<T>& rows, uint32_t seed) {
  std::mt19937 draw(seed);
  for (size_t i = rows.size(); i > 1; --i) std::swap(rows[i - 1], rows[draw() % i]);
}

std::string joined(const std::vector<std::string>& rows, std::string_view between) {
  std::string text;
  for (const std::string& row : rows) text += (text.empty() ? "" : std::string(between)) + row;
  return text;
}

// A feature collection with one feature a line.
std::string shuffled_features(const std::string& text, uint32_t seed) {
  const size_t first = text.find("[\n") + 2, last = text.rfind("\n]");
  std::vector<std::string> rows;
  for (const std::string_view line : split(std::string_view(text).substr(first, last - first), '\n'))
    rows.emplace_back(line.substr(0, line.size() - (line.back() == ',' ? 1 : 0)));
  REQUIRE(rows.size() > 5);
  shuffle(rows, seed);
  return text.substr(0, first) + joined(rows, ",\n") + text.substr(last);
}

// Every run of "- {name: …}" lines of a scenario, each run by itself.
std::string shuffled_rows(const std::string& text, uint32_t seed) {
  std::vector<std::string> lines, run;
  const auto end_run = [&] {
    shuffle(run, seed);
    lines.insert(lines.end(), run.begin(), run.end());
    run.clear();
  };
  for (const std::string_view line : split(text, '\n')) {
    const bool row = line.find("- {name: ") != std::string_view::npos;
    if (!row) end_run();
    (row ? run : lines).emplace_back(line);
  }
  end_run();
  return joined(lines, "\n");
}

FolderTexts shuffled(FolderTexts texts, uint32_t seed) {
  for (auto& [name, text] : texts)
    text = name == "scenario.yaml" ? shuffled_rows(text, seed) : shuffled_features(text, seed + 1);
  return texts;
}

// Two headends and rows that differ in every property a table can have.
FolderTexts town() {
  FolderTexts texts = invented(300, 21);
  std::string& yaml = texts["scenario.yaml"];
  yaml.insert(yaml.find("class:"), "  - {name: Second Exchange, at: [12, 9], microduct entries: 8}\n");
  return texts;
}

// But for the scenario as used, which shows its rows in the order and with the lines they were read in.
FolderTexts without_places(FolderTexts folder) {
  folder.erase("scenario.yaml");
  return folder;
}

}  // namespace

TEST_CASE("premises, routes and headends listed in another order change no written byte") {
  for (const FolderTexts& texts : {shipped("hamlet"), town()}) {
    const Plan plan = planned(texts);
    const FolderTexts folder = without_places(written(plan));
    for (const uint32_t seed : {1u, 2u, 3u}) {
      const FolderTexts mixed = shuffled(texts, seed);
      CHECK(difference(texts, mixed) != "");
      const Plan other = planned(mixed);
      CHECK(same_results(plan, other));
      CHECK(difference(folder, without_places(written(other))) == "");
    }
  }
}

TEST_CASE("any number of threads, and a second run, give the same bytes") {
  for (const FolderTexts& texts : {shipped("hamlet"), town(), invented(500, 4)}) {
    const Scenario scenario = scenario_in(texts);
    const FolderTexts folder = written(planned(scenario, 1));
    for (const int threads : {1, 2, 7}) {
      CAPTURE(threads);
      CHECK(difference(folder, written(planned(scenario, threads))) == "");
    }
  }
}

TEST_CASE("progress is told stage by stage and changes nothing") {
  const Scenario scenario = scenario_in(shipped("hamlet"));
  std::vector<std::string> begun;
  const Run told{.threads = 1, .on_stage = [&](std::string_view stage, double share) {
                   CHECK(share >= 0);
                   CHECK(share <= 1);
                   if (share == 0 && (begun.empty() || begun.back() != stage)) begun.emplace_back(stage);
                 }};
  const Plan plan = make_plan(scenario, nullptr, Hold::nothing, told);
  CHECK(same_results(plan, planned(scenario)));
  std::vector<std::string> ran;
  for (const StageRun& stage : plan.stages) ran.emplace_back(stage.stage);
  CHECK(joined(begun, " ") == joined(ran, " "));
}
