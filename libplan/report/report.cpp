#include "report/report.h"

#include <fmt/core.h>

#include "report/sheets.h"
#include "report/writers.h"

namespace plan {
namespace {

constexpr size_t most_premises_in_one_map = 50000;
constexpr size_t most_crew_days_on_sheets = 5000;
constexpr int days_of_sheets_then = 21;

using Writer = void (*)(const Plan&, const Sink&);
struct TableWriter {
  const char* file;
  Writer write;
};
constexpr TableWriter writers[] = {
    {"premises.csv", write_premises},
    {"dwellings.csv", write_dwellings},
    {"stations.csv", write_stations},
    {"spans.csv", write_spans},
    {"runs.csv", write_runs},
    {"sections.csv", write_sections},
    {"joints.csv", write_joints},
    {"branch-points.csv", write_branch_points},
    {"links.csv", write_links},
    {"splitters.csv", write_splitters},
    {"pons.csv", write_pons},
    {"blows.csv", write_blows},
    {"bill-of-materials.csv", write_bill},
    {"drums.csv", write_drums},
    {"programme.csv", write_programme},
    {"work-orders.csv", write_work_orders},
    {"reconciliation.csv", write_reconciliation},
    {"walk-out.csv", write_walk_out},
    {"findings.csv", write_findings},
    {"summary.json", write_summary_json},
};

void add_maps(const Plan& plan, std::vector<Output>& outputs) {
  if (plan.scenario.demand->premises.size() <= most_premises_in_one_map) {
    outputs.push_back({"plan.geojson", [&plan](const Sink& sink) { write_map(plan, sink); }});
    return;
  }
  for (const std::string_view layer : map_layers())
    outputs.push_back({fmt::format("plan-{}.geojsonl", layer),
                       [&plan, layer](const Sink& sink) { write_map_layer(plan, layer, sink); }});
}

void add_sheets(const Plan& plan, std::vector<Output>& outputs) {
  const bool all = plan.schedule->crew_days.size() <= most_crew_days_on_sheets;
  const Date last = plan.schedule->start + (days_of_sheets_then - 1);
  for (Output& o : sheets(plan, [=](const CrewDay& day) { return all || day.date <= last; }))
    outputs.push_back(std::move(o));
  if (all) return;
  outputs.push_back(
      {"sheets/more.txt", [last](const Sink& sink) {
         sink(fmt::format(
             "sheets up to {} are here; later ones: withy sheets DIR --crew NAME --from DATE --to DATE\n",
             iso(last)));
       }});
}

}  // namespace

std::vector<Output> plan_outputs(const Plan& plan) {
  std::vector<Output> outputs;
  outputs.push_back({"summary.txt", [&plan](const Sink& sink) { sink(summary_text(plan)); }});
  for (const TableWriter& t : writers)
    outputs.push_back({t.file, [&plan, write = t.write](const Sink& sink) { write(plan, sink); }});
  add_maps(plan, outputs);
  add_sheets(plan, outputs);
  return outputs;
}

}  // namespace plan
