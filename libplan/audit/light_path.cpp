#include "audit/light_path.h"

#include <fmt/core.h>

#include <algorithm>

#include "model/loss.h"

namespace plan {
namespace {

Attenuation column_at(const FibreType& fibre, Wavelength at, Attenuation AttenuationRow::*column) {
  std::vector<AttenuationPoint> rows;
  for (const AttenuationRow& r : fibre.attenuation) rows.push_back({r.at, r.*column, r.max});
  return rows.empty() ? Attenuation() : attenuation_plan(rows, at);
}

Attenuation planned_at(const FibreType& fibre, Wavelength at, bool worst_case) {
  if (!worst_case || fibre.attenuation.empty()) return column_at(fibre, at, &AttenuationRow::plan);
  std::vector<AttenuationPoint> rows;
  std::vector<AttenuationBand> bands;
  for (const AttenuationRow& r : fibre.attenuation) rows.push_back({r.at, r.plan, r.max});
  for (const BandMaximum& b : fibre.bands) bands.push_back({b.from, b.to, b.max});
  return attenuation_max(rows, bands, at);
}

}  // namespace

LightPaths::LightPaths(const AuditView& view)
    : v_(view),
      rules_(*view.plan.scenario.optic_rules),
      headend_(view.word("headend")),
      cabinet_(view.word("cabinet")) {
  const FibreCatalogue& catalogue = *view.plan.scenario.fibre_catalogue;
  const auto at = static_cast<size_t>(rules_.optical_class), fibre_at = static_cast<size_t>(rules_.fibre);
  if (at >= catalogue.classes.size() || fibre_at >= catalogue.fibres.size()) return;
  class_ = &catalogue.classes[at];
  const FibreType& fibre = catalogue.fibres[fibre_at];
  down_planned_ = planned_at(fibre, class_->down.at, rules_.worst_case_attenuation);
  up_planned_ = planned_at(fibre, class_->up.at, rules_.worst_case_attenuation);
  down_typical_ = column_at(fibre, class_->down.at, &AttenuationRow::typical);
  up_typical_ = column_at(fibre, class_->up.at, &AttenuationRow::typical);
}

void LightPaths::walk(size_t dwelling, std::vector<WrittenPart>& parts) const {
  parts.clear();
  const WrittenTable& d = v_.dwellings;
  if (class_ == nullptr || d["pon"][dwelling] == no_cell || d["link"][dwelling] == no_cell) return;
  parts.push_back({LitPart::margin, {}, 1, nullptr});
  int64_t splitter = d["splitter"][dwelling];
  int64_t at = leave_premises(dwelling, parts);
  bool whole = true;
  while (at != no_cell && whole) {
    whole = cross(at, splitter, parts);
    if (v_.stations["kind"][at] == headend_) break;
    const int64_t above = v_.stations["upstream"][at];
    whole = whole && above != no_cell && above < at;
    glass(v_.feeds[at], v_.plan.words[v_.stations["kind"][at]], parts);
    at = above;
  }
  if (!whole || at == no_cell || splitter != no_cell) parts.clear();
  std::reverse(parts.begin(), parts.end());
}

// The outlet, glass inside the building and the unit; the station where the unit or indoor fibre begins.
int64_t LightPaths::leave_premises(size_t dwelling, std::vector<WrittenPart>& parts) const {
  const int64_t link = v_.dwellings["link"][dwelling], inner = v_.links["to station"][link];
  const int64_t row = v_.premises_by_name[v_.dwellings["premises"][dwelling]];
  const bool point = v_.premises["building point"][row] == 1;
  if (rules_.connectors_at_outlet > 0)
    parts.push_back({LitPart::connectors, {}, rules_.connectors_at_outlet, nullptr});
  parts.push_back({LitPart::splices, {}, 1, nullptr});
  if (inner != no_cell || point)
    parts.push_back({LitPart::riser, {}, or_zero(v_.premises["riser"][row]), nullptr});
  if (inner != no_cell) return inner;
  if (point) parts.push_back({LitPart::splices, "building point", 1, nullptr});
  glass(link, {}, parts);
  return v_.links["from station"][link];
}

// The splitters of one station and what they are joined with; false where one is not in the catalogue.
bool LightPaths::cross(int64_t station, int64_t& splitter, std::vector<WrittenPart>& parts) const {
  const int64_t kind = v_.stations["kind"][station];
  const std::string_view place = v_.plan.words[kind];
  const size_t first = parts.size();
  parts.push_back({LitPart::splices, place, 1, nullptr});  // of the fibre that leaves
  int64_t passed = 0;
  bool plugged = false, last_plugged = false;
  while (splitter != no_cell && v_.splitters["station"][splitter] == station) {
    const SplitterType* type = v_.splitter_type(v_.splitters["type"][splitter]);
    const int64_t above = v_.splitters["upstream"][splitter];
    if (type == nullptr || above >= splitter) return false;
    if (passed++ > 0 && !type->connectorised && !last_plugged) ++parts[first].amount;
    parts.push_back({LitPart::splitter, place, 1, type});
    last_plugged = type->connectorised;
    plugged = plugged || last_plugged;
    splitter = above;
  }
  if (passed > 0 && kind != headend_) ++parts[first].amount;  // of the feed
  const bool patched = kind == cabinet_ && v_.plan.scenario.fibre_rules->patched_cabinet;
  const int mated = kind == headend_ ? rules_.connectors_at_headend
                    : patched        ? rules_.connectors_at_cabinet
                                     : 0;
  if (!plugged && mated > 0) parts.push_back({LitPart::connectors, place, mated, nullptr});
  return true;
}

void LightPaths::glass(int64_t link, std::string_view place, std::vector<WrittenPart>& parts) const {
  parts.push_back({LitPart::glass, place, or_zero(v_.links["cable length"][link]), nullptr});
}

PartLosses LightPaths::losses(const WrittenPart& part) const {
  const auto pieces = static_cast<double>(part.amount);
  const Length length = whole_millimetres(part.amount);
  switch (part.part) {
    case LitPart::glass:
      return {down_planned_ * length, down_typical_ * length, up_planned_ * length, up_typical_ * length};
    case LitPart::riser:  // as long as to the farthest outlet: it adds nothing that is sure
      return {down_planned_ * length, {}, up_planned_ * length, {}};
    case LitPart::splices:
      return {rules_.splice_max * pieces, {}, rules_.splice_max * pieces, {}};
    case LitPart::connectors:
      return {rules_.connector_max * pieces, {}, rules_.connector_max * pieces, {}};
    case LitPart::splitter: {
      const Loss least = ideal_split(std::max(1, part.type->ports));
      return {part.type->max_loss, least, part.type->max_loss, least};
    }
    case LitPart::margin:
      break;
  }
  return {rules_.margin, {}, rules_.margin, {}};
}

std::string LightPaths::name(const WrittenPart& part) const {
  const std::string place(part.place.empty() ? "outlet" : part.place);
  const auto counted = [&](std::string_view one, std::string_view more) {
    return fmt::format("{} at {}", part.amount == 1 ? one : more, place);
  };
  switch (part.part) {
    case LitPart::glass:
      return part.place.empty() ? "glass of the unit to the premises" : "glass of the cable to " + place;
    case LitPart::riser:
      return "glass inside the building";
    case LitPart::splices:
      return counted("splice", "splices");
    case LitPart::connectors:
      return counted("connector", "connectors");
    case LitPart::splitter:
      return fmt::format("{} at {}", part.type->name, place);
    case LitPart::margin:
      break;
  }
  return "margin";
}

}  // namespace plan
