// A scenario from its text, for tests: no file is opened, and a scenario that cannot be read fails the
// test with every diagnostic rendered.
//
//   const Scenario s = scenario_from(R"(
//   scenario: Two Doors
//   start: 2027-03-01
//   estate:
//     premises: [{name: A, at: [0, 5]}, {name: B, at: [20, 5]}]
//     routes: [{name: lane, line: [[0, 0], [20, 0]], surface: verge}]
//   headends: [{name: Exchange, at: [0, -5]}]
//   )");
#pragma once
#include <doctest/doctest.h>

#include <map>
#include <string>
#include <string_view>

#include "scenario/scenario.h"

namespace plan {

// Files that serve these texts and no table.
inline Files text_files(std::map<std::string, std::string> texts) {
  Files files;
  files.text = [=](const std::string& path) -> Result<std::string> {
    const auto at = texts.find(path);
    if (at == texts.end()) return failed<std::string>("no such file");
    return good(at->second);
  };
  files.table = [=](const std::string&, std::string_view, const RowSink&) -> Diagnostics {
    return failed<NodeRef>("no such table").diagnostics;
  };
  return files;
}

inline Files text_file(std::string_view yaml) {
  return text_files({{"scenario.yaml", std::string(yaml)}});
}

inline std::string all_rendered(const Diagnostics& diagnostics) {
  std::string text;
  for (const Diagnostic& d : diagnostics) text += rendered(d);
  return text;
}

inline Scenario scenario_from(std::string_view yaml) {
  Result<Scenario> s = read_scenario(text_file(yaml), "scenario.yaml");
  REQUIRE_MESSAGE(s.value.has_value(), all_rendered(s.diagnostics));
  return std::move(*s);
}

// The diagnostics of a scenario that must not be readable.
inline std::string faults_of(std::string_view yaml) {
  const Result<Scenario> s = read_scenario(text_file(yaml), "scenario.yaml");
  REQUIRE_FALSE(s.value.has_value());
  return all_rendered(s.diagnostics);
}

}  // namespace plan
