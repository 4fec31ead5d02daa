// An invented scenario of twelve lines, and ways to change one line of it.
#pragma once
#include <string>
#include <string_view>

#include "scenario_text.h"

namespace plan {

inline constexpr std::string_view little_withy = R"(scenario: Little Withy
start: 2027-03-01
estate:
  coordinates: metres
  premises: [{name: 1 Mill Lane, at: [10, 5]}, {name: 2 Mill Lane, at: [30, -5], dwellings: 4}]
  routes: [{name: Mill Lane, line: [[0, 0], [100, 0]], surface: verge}]
headends: [{name: Exchange, at: [0, 0]}]
class: GPON B+
split: [{at: cabinet, ratio: 1:32}]
crews:
  - {name: Dig, skills: [dig, lay, chamber, cabinet, reinstate], people: 5}
  - {name: Fibre, skills: [couple, prove, blow, splice, test, connect], people: 2}
)";

inline std::string with(std::string_view extra) {
  return std::string(little_withy) + std::string(extra);
}
inline std::string instead(std::string_view old, std::string_view now) {
  std::string text(little_withy);
  const size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), now);
}
// The first line of what was found wrong: "scenario.yaml:2:8: ...".
inline std::string first_fault(std::string_view yaml) {
  const std::string all = faults_of(yaml);
  return all.substr(0, all.find('\n'));
}

}  // namespace plan
