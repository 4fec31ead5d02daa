// A rule the plan cannot meet: which, where, by how much, and what would mend it. A finding holds ids
// and numbers, never text or places; the report looks the names up in the scenario at hand.
//
//   findings.push_back({.rule = Rule::blow_too_hard, .at = subject(link), .actual = 0.61, .limit = 0.50,
//                 .mend = Mend::intermediate_blow_point});
#pragma once
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "base/id.h"

namespace plan {

enum class Rule : uint16_t {
  // network
  premises_far_from_street,
  premises_unreached,
  headend_far_from_street,
  site_far_from_street,
  // basis
  no_unit_for_fibres,
  split_exceeds_class,
  no_bundle_for_microduct,
  // layout
  drop_duct_too_long,
  feeder_duct_too_long,
  no_allowed_site,
  cabinet_entries_exceeded,
  cabinet_fibres_exceeded,
  cabinet_splitters_exceeded,
  premises_unserved,
  // ducts
  bundles_per_span_exceeded,
  no_bundle_fits,
  existing_duct_full,
  fill_high,
  fill_exceeded,
  bend_too_tight,
  duct_in_wrong_place,
  cold_laying,
  // fibre
  olt_ports_exceeded,
  feeder_fibres_exceeded,
  splitter_missing,
  trays_exceeded,
  no_cable_for_fibres,
  // blowing
  blow_too_hard,
  supply_over_rating,
  // optics
  loss_over_class,
  loss_under_class,
  differential_exceeded,
  reach_exceeded,
  // takeoff, schedule, bom
  fitting_missing,
  price_missing,
  rate_missing,
  no_crew_for_task,
  task_longer_than_shift,
  programme_too_long,
  cut_longer_than_drum,
  count_
};

enum class Mend : uint8_t {
  none,
  add_route,
  move_premises,
  more_cabinets,
  another_site,
  larger_cabinet,
  lower_split,
  higher_class,
  larger_bundle,
  dig_beside,
  larger_microduct,
  smaller_cable,
  wider_corner,
  warmer_laying,
  intermediate_blow_point,
  less_pressure,
  attenuator,
  regroup,
  add_price,
  add_rate,
  add_crew,
  in_line_joint,
  larger_headend
};

enum class SubjectKind : uint8_t {
  none,
  premises,
  route,
  headend,
  site,
  surface,
  node,
  span,
  station,
  link,
  run,
  section,
  dwelling,
  splitter,
  pon,
  task,
  item
};
struct Subject {
  SubjectKind kind = SubjectKind::none;
  uint32_t id = UINT32_MAX;
  friend bool operator==(const Subject&, const Subject&) = default;
};
inline Subject subject(PremisesId i) {
  return {SubjectKind::premises, i.value};
}
inline Subject subject(RouteId i) {
  return {SubjectKind::route, i.value};
}
inline Subject subject(HeadendId i) {
  return {SubjectKind::headend, i.value};
}
inline Subject subject(SiteId i) {
  return {SubjectKind::site, i.value};
}
inline Subject subject(SurfaceId i) {
  return {SubjectKind::surface, i.value};
}
inline Subject subject(NodeId i) {
  return {SubjectKind::node, i.value};
}
inline Subject subject(SpanId i) {
  return {SubjectKind::span, i.value};
}
inline Subject subject(StationId i) {
  return {SubjectKind::station, i.value};
}
inline Subject subject(LinkId i) {
  return {SubjectKind::link, i.value};
}
inline Subject subject(RunId i) {
  return {SubjectKind::run, i.value};
}
inline Subject subject(DwellingId i) {
  return {SubjectKind::dwelling, i.value};
}
inline Subject subject(SplitterId i) {
  return {SubjectKind::splitter, i.value};
}
inline Subject subject(PonId i) {
  return {SubjectKind::pon, i.value};
}
inline Subject subject(TaskId i) {
  return {SubjectKind::task, i.value};
}
inline Subject subject(ItemId i) {
  return {SubjectKind::item, i.value};
}

struct Finding {
  Rule rule = Rule::count_;
  Subject at = {};
  Subject by = {};               // a second thing involved
  double actual = 0, limit = 0;  // in the unit of the rule's text
  Mend mend = Mend::none;
  double mend_amount = 0;
  friend bool operator==(const Finding&, const Finding&) = default;
};
using Findings = std::vector<Finding>;

// How a rule reads: "fill {actual} exceeds limit {limit}". A note informs and never fails a plan.
struct RuleText {
  std::string_view name;      // "fill-exceeded": stable, printed in tables
  std::string_view sentence;  // with {actual} and {limit}
  int decimals = 0;
  bool note = false;
};
const RuleText& rule_text(Rule rule);
std::string_view mend_text(Mend mend);

}  // namespace plan
