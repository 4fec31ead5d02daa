// Private to report: one writer a file.
#pragma once
#include "report/report.h"

namespace plan {

void write_premises(const Plan& plan, const Sink& sink);
void write_dwellings(const Plan& plan, const Sink& sink);
void write_stations(const Plan& plan, const Sink& sink);
void write_spans(const Plan& plan, const Sink& sink);
void write_runs(const Plan& plan, const Sink& sink);
void write_sections(const Plan& plan, const Sink& sink);
void write_links(const Plan& plan, const Sink& sink);
void write_joints(const Plan& plan, const Sink& sink);
void write_branch_points(const Plan& plan, const Sink& sink);
void write_blows(const Plan& plan, const Sink& sink);
void write_splitters(const Plan& plan, const Sink& sink);
void write_pons(const Plan& plan, const Sink& sink);
void write_bill(const Plan& plan, const Sink& sink);
void write_drums(const Plan& plan, const Sink& sink);
void write_programme(const Plan& plan, const Sink& sink);
void write_work_orders(const Plan& plan, const Sink& sink);
void write_reconciliation(const Plan& plan, const Sink& sink);
void write_walk_out(const Plan& plan, const Sink& sink);
void write_findings(const Plan& plan, const Sink& sink);
void write_summary_json(const Plan& plan, const Sink& sink);
// One GeoJSON FeatureCollection, or one feature a line (`newline`), of a layer: "premises", "spans",
// "stations", "branch-points".
void write_map(const Plan& plan, const Sink& sink);
void write_map_layer(const Plan& plan, std::string_view layer, const Sink& sink);
std::span<const std::string_view> map_layers();

}  // namespace plan
