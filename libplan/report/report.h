// Stage `report`: a plan as texts. Writers stream rows to a sink and touch no file; ids become names
// here and nowhere else. Nothing is cut silently: what is left to another command is said in the text.
//
//   for (const Output& o : plan_outputs(plan)) { Sink sink = folder.file(o.file); o.write(sink); }
//
// Same plan, same bytes. Above 50,000 premises plan.geojson becomes one newline-delimited file a layer;
// above 5,000 crew-days the sheets hold the first three weeks, the rest come from `withy sheets`.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "base/csv.h"
#include "plan/plan.h"

namespace plan {

struct Output {
  std::string file;                        // "spans.csv", "sheets/crew 1 2027-W09.txt"
  std::function<void(const Sink&)> write;  // the plan must outlive it
};
std::vector<Output> plan_outputs(const Plan& plan);

// Sheets of one crew (empty = all) for days in [from, to], one file a crew and week, a page a day.
std::vector<Output> sheet_outputs(const Plan& plan, std::string_view crew, Date from, Date to);

// The first screen of a plan: findings first, then figures; what `withy plan` prints and summary.txt holds.
std::string summary_text(const Plan& plan);
// The same figures of several plans side by side.
struct Variant {
  std::string name;
  const Plan* plan = nullptr;
};
std::string comparison_text(const std::vector<Variant>& variants);
void write_comparison(const std::vector<Variant>& variants, const Sink& sink);

}  // namespace plan
