// One edit of every kind a scenario can have, by the slice it changes, in the words of the language.
//
//   const FolderTexts texts = with_edits(shipped("hamlet"));
//   const Scenario scenario = scenario_in(texts);
//   const Plan base = planned(scenario);
//   const Plan other = planned_on(base, edit_named(texts, scenario, "cabinet fill"));
//
// `<premises>`, `<route>` and `<site>` stand for the first of each of the estate, filled in by with_edits().
#pragma once
#include <string_view>
#include <vector>

#include "laws/planned.h"

namespace plan {

struct EditKind {
  std::string_view slice, name, change;
};
const std::vector<EditKind>& edit_kinds();

// The scenario with a site at every third street's end and every kind of edit appended; edits of its own are
// dropped.
FolderTexts with_edits(FolderTexts texts);

Scenario edit_of(const FolderTexts& texts, const Scenario& base, const Edit& edit);
Scenario edit_named(const FolderTexts& texts, const Scenario& base, std::string_view name);

Plan planned_on(const Plan& base, const Scenario& edit, Hold hold = Hold::nothing);

}  // namespace plan
