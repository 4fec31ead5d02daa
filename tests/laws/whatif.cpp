// The law of what-if: a plan made on top of a base is the plan of the edited scenario alone, in every result
// and every written byte; and it is made by running again exactly what takes something that changed.
#include "laws/edits.h"

using namespace plan;

namespace {

struct Estate {
  std::string name;
  FolderTexts texts;
};

// hamlet needs no cabinet; an invented town has several; the second has splitters in two stages, a take-up,
// patched cabinets, and so much friction that blows are refused and the layout is asked again.
std::vector<Estate> estates() {
  FolderTexts two_stages = invented(150, 5);
  std::string& yaml = two_stages["scenario.yaml"];
  yaml =
      yaml.substr(0, yaml.find("split:")) +
      "split: [{at: cabinet, ratio: 1:8}, {at: branch point, ratio: 1:4}]\n"
      "fibre: {take-up: 50 %, patched cabinet: yes, reserve all ports: no}\nblowing: {unit friction: 0.7}\n";
  return {{"hamlet", with_edits(shipped("hamlet"))},
          {"town of 400", with_edits(invented(400, 7))},
          {"town of two stages", with_edits(two_stages)}};
}

struct Changed {
  std::string name;
  Scenario scenario;
};
std::vector<Changed> changed_by_edits(const FolderTexts& texts, const Scenario& base) {
  std::vector<Changed> all;
  for (const Edit& edit : base.edits) all.push_back({edit.name, edit_of(texts, base, edit)});
  return all;
}

// Where two plans part; empty where they are the same.
std::string parted(const Plan& a, const Plan& b) {
  const std::string text = difference(written(a), written(b));
  return same_results(a, b) || !text.empty() ? text : "results differ that no text shows";
}

}  // namespace

TEST_CASE("an edit planned on its base is the edited scenario planned alone, byte for byte") {
  for (const Estate& estate : estates()) {
    const Scenario scenario = scenario_in(estate.texts);
    CHECK(scenario.edits.size() == edit_kinds().size());
    const Plan base = planned(scenario);
    for (const Changed& v : changed_by_edits(estate.texts, scenario)) {
      CAPTURE(estate.name);
      CAPTURE(v.name);
      CHECK(parted(planned_on(base, v.scenario), planned(v.scenario)) == "");
    }
  }
}

TEST_CASE("any plan may be the base: each edit on top of another edit's plan") {
  for (const Estate& estate : estates()) {
    if (estate.name == "town of 400") continue;  // the same law, ten times as slow
    const Scenario scenario = scenario_in(estate.texts);
    const std::vector<Changed> all = changed_by_edits(estate.texts, scenario);
    Plan base = planned(scenario);
    for (size_t i = 0; i < all.size(); ++i) {
      const Changed& v = all[i * 17 % all.size()];  // 17 and their number share no factor: neighbours mix
      CAPTURE(estate.name);
      CAPTURE(v.name);
      Plan next = planned_on(base, v.scenario);
      CHECK(parted(next, planned(v.scenario)) == "");
      base = std::move(next);
    }
  }
}

TEST_CASE("every slice has an edit that changes it alone") {
  const FolderTexts texts = with_edits(shipped("hamlet"));
  const Scenario base = scenario_in(texts);
  size_t k = 0;
  for (const Changed& v : changed_by_edits(texts, base)) {
    const std::string slice(edit_kinds()[k++].slice);
    const Scenario& e = v.scenario;
    std::string changed;
    const auto note = [&](const char* name, bool same) { changed += same ? "" : name; };
    note("demand", e.demand.identical(base.demand));
    note("duct_catalogue", e.duct_catalogue.identical(base.duct_catalogue));
    note("fibre_catalogue", e.fibre_catalogue.identical(base.fibre_catalogue));
    note("layout_rules", e.layout_rules.identical(base.layout_rules));
    note("duct_rules", e.duct_rules.identical(base.duct_rules));
    note("fibre_rules", e.fibre_rules.identical(base.fibre_rules));
    note("blow_rules", e.blow_rules.identical(base.blow_rules));
    note("optic_rules", e.optic_rules.identical(base.optic_rules));
    note("design_prices", e.design_prices.identical(base.design_prices));
    note("prices", e.prices.identical(base.prices));
    note("stock", e.stock.identical(base.stock));
    note("crews", e.crews.identical(base.crews));
    note("site", e.site.identical(base.site));
    CAPTURE(v.name);
    CHECK(changed == slice);
  }
}

TEST_CASE("a held result stands, and an edit holds nothing of what it changes itself") {
  for (const Estate& estate : estates()) {
    if (estate.name == "town of 400") continue;
    const Scenario scenario = scenario_in(estate.texts);
    const Plan base = planned(scenario);
    for (const Changed& v : changed_by_edits(estate.texts, scenario))
      for (const Hold hold : {Hold::layout, Hold::ducts, Hold::quantities}) {
        CAPTURE(estate.name);
        CAPTURE(v.name);
        const Plan plan = planned_on(base, v.scenario, hold);
        CHECK(!written(plan).empty());  // and nothing throws
        const Hold held = std::min(hold, most_held(scenario, v.scenario));
        if (held >= Hold::layout) CHECK(plan.layout() == base.layout());
        if (held >= Hold::ducts) CHECK(plan.ducts() == base.ducts());
        if (held >= Hold::quantities) CHECK(plan.takeoff == base.takeoff);
        if (held == Hold::nothing) CHECK(same_results(plan, planned_on(base, v.scenario)));
      }
  }
}

TEST_CASE("the effective scenario of an edit reads back to its plan") {
  const FolderTexts texts = with_edits(shipped("hamlet"));
  const Scenario scenario = scenario_in(texts);
  for (const Changed& v : changed_by_edits(texts, scenario)) {
    CAPTURE(v.name);
    const Scenario again = scenario_in(FolderTexts{{"scenario.yaml", effective(v.scenario)}});
    CHECK(same_slices(v.scenario, again));
  }
}
