// Monotone physics on whole plans: with the ducts held, worse conditions never let a refused blow pass, and a
// higher split never loses less on the same path. Pressure is not among them: it pushes the unit back at the
// launch point, and near the push limit less of it may pass.
#include <vector>

#include "laws/edits.h"

using namespace plan;

namespace {

// A town whose longest blows are near what the screen lets pass, with a row of edits of one rule.
FolderTexts town_with(std::string_view edits) {
  FolderTexts texts = invented(350, 13);
  std::string& yaml = texts["scenario.yaml"];
  yaml = yaml.substr(0, yaml.find("class:")) + "class: GPON B+\nsplit: [{at: cabinet, ratio: 1:8}]\nedits:\n";
  yaml += edits;
  return texts;
}

std::string row_of(std::string_view hold, std::string_view change, const std::vector<std::string>& values) {
  std::string text;
  for (const std::string& value : values)
    text += fmt::format("  - {{name: \"{}\", hold: {}, change: {}}}\n", value, hold,
                        fmt::format(fmt::runtime(change), value));
  return text;
}

std::vector<Plan> held_plans(const FolderTexts& texts) {
  const Scenario scenario = scenario_in(texts);
  const Plan base = planned(scenario);
  std::vector<Plan> plans;
  for (const Edit& edit : scenario.edits) {
    plans.push_back(planned_on(base, edit_of(texts, scenario, edit), edit.hold));
    REQUIRE(plans.back().ducts() == base.ducts());
  }
  return plans;
}

size_t refused(const Plan& plan) {
  size_t n = 0;
  for (const Blow& blow : plan.blowing().blows) n += blow.feasible ? 0 : 1;
  return n;
}

// From one plan to the next conditions get worse.
void check_worse(const std::string& edits) {
  const std::vector<Plan> plans = held_plans(town_with(edits));
  CHECK(refused(plans.front()) < refused(plans.back()));  // else nothing is tested
  for (size_t k = 1; k < plans.size(); ++k)
    for (const LinkId link : plans[k].layout().links.ids()) {
      const Blow &before = plans[k - 1].blowing().blows[link], &now = plans[k].blowing().blows[link];
      CAPTURE(k);
      CAPTURE(link.value);
      CHECK(before.feasible >= now.feasible);
      if (before.from_station == now.from_station) CHECK(before.push_only >= now.push_only);
      CHECK(before.length == now.length);
    }
}

}  // namespace

TEST_CASE("more friction never reaches farther on the same ducts") {
  check_worse(row_of("ducts", "{{blowing: {{unit friction: {0}, cable friction: {0}}}}}",
                     {"0.05", "0.1", "0.15", "0.2", "0.25", "0.3", "0.4", "0.5", "0.7", "1"}));
}

TEST_CASE("a windier route never reaches farther on the same ducts") {
  check_worse(row_of("ducts", "{{blowing: {{unit friction: 0.45, tortuosity: {} rad/m}}}}",
                     {"0.001", "0.002", "0.005", "0.01", "0.02", "0.05", "0.1"}));
}

TEST_CASE("a smaller share of the screened length never lets more pass") {
  check_worse(row_of("ducts", "{{blowing: {{unit friction: 0.25, length share: {} %}}}}",
                     {"100", "90", "80", "60", "40", "20"}));
}

TEST_CASE("on one path a higher split never loses less") {
  const std::vector<Plan> plans = held_plans(town_with(
      row_of("ducts", "{{split: [{{at: cabinet, ratio: \"1:{}\"}}]}}", {"2", "4", "8", "16", "32", "64"})));
  for (size_t k = 1; k < plans.size(); ++k) {
    CAPTURE(k);
    REQUIRE(plans[k].fibre().dwellings.size() == plans[k - 1].fibre().dwellings.size());
    for (const DwellingId d : plans[k].fibre().dwellings.ids()) {
      const Ledger &before = plans[k - 1].optics().ledgers[d], &now = plans[k].optics().ledgers[d];
      CHECK(before.down_max < now.down_max);
      CHECK(before.up_max < now.up_max);
      CHECK(before.down_min < now.down_min);
      CHECK(before.up_min < now.up_min);
    }
  }
}

TEST_CASE("worse glass and worse joints never lose less") {
  const std::vector<Plan> plans = held_plans(town_with(
      row_of("quantities", "{{optics: {{splice largest: {} dB}}}}", {"0.08", "0.1", "0.2", "0.4"})));
  for (size_t k = 1; k < plans.size(); ++k)
    for (const DwellingId d : plans[k].fibre().dwellings.ids()) {
      const Ledger &before = plans[k - 1].optics().ledgers[d], &now = plans[k].optics().ledgers[d];
      CHECK(before.down_max < now.down_max);
      CHECK(before.down_margin > now.down_margin);
    }
}
