// Why this: one thing of a written plan, told from its folder alone.
//
//   plan::WrittenPlan plan = plan::read_written_plan(texts, tell);
//   if (const auto text = explained(plan, "12 Alder Lane")) print_out(*text);
//   else nearest_id(plan, "12 Alder Lan")  ->  "12 Alder Lane"
//
// An id is the name of premises, a station or a bill item, or a kind and a number as tables have them:
// "span 34", "link 5", "run 7", "node 9", "section 3", "dwelling 12", "splitter 2", "PON 0", "task 5".
// Lengths and losses are added up again from their parts, and stand beside what the tables say.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "record/written_plan.h"

namespace withy {

std::optional<std::string> explained(const plan::WrittenPlan& plan, std::string_view id);
// The name most like `id`, where one is near enough to be meant.
std::optional<std::string> nearest_id(const plan::WrittenPlan& plan, std::string_view id);

}  // namespace withy
