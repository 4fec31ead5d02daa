#include "optics/part_loss.h"

#include <algorithm>

#include "model/loss.h"

namespace plan {
namespace {

using Column = Attenuation AttenuationRow::*;

Attenuation attenuation(const FibreType& fibre, Wavelength at, Column column) {
  std::vector<AttenuationPoint> rows;
  for (const AttenuationRow& r : fibre.attenuation) rows.push_back({r.at, r.*column, r.max});
  return attenuation_plan(rows, at);
}

Attenuation largest_attenuation(const FibreType& fibre, Wavelength at) {
  std::vector<AttenuationPoint> rows;
  std::vector<AttenuationBand> bands;
  for (const AttenuationRow& r : fibre.attenuation) rows.push_back({r.at, r.plan, r.max});
  for (const BandMaximum& b : fibre.bands) bands.push_back({b.from, b.to, b.max});
  return attenuation_max(rows, bands, at);
}

}  // namespace

System system_of(const OpticsInput& input, int optical_class) {
  const OpticalClass& c = input.catalogue.classes[static_cast<size_t>(optical_class)];
  const FibreType& fibre = input.catalogue.fibres[static_cast<size_t>(input.rules.fibre)];
  const auto planned = [&](Wavelength at) {
    return input.rules.worst_case_attenuation ? largest_attenuation(fibre, at)
                                              : attenuation(fibre, at, &AttenuationRow::plan);
  };
  System s;
  s.optical_class = &c;
  s.down_max = planned(c.down.at);
  s.up_max = planned(c.up.at);
  s.down_plan = attenuation(fibre, c.down.at, &AttenuationRow::plan);
  s.down_typical = attenuation(fibre, c.down.at, &AttenuationRow::typical);
  s.up_typical = attenuation(fibre, c.up.at, &AttenuationRow::typical);
  return s;
}

PartLoss loss_of(const OpticsInput& input, const System& s, const Part& part) {
  const OpticRules& rules = input.rules;
  const double n = part.pieces;
  switch (part.kind) {
    case PartKind::glass:
      return {s.down_max * part.length, s.down_typical * part.length, s.up_max * part.length,
              s.up_typical * part.length, s.down_plan * part.length};
    case PartKind::riser:  // its length is that of the farthest outlet
      return {s.down_max * part.length, {}, s.up_max * part.length, {}, s.down_plan * part.length};
    case PartKind::splices:
      return {rules.splice_max * n, {}, rules.splice_max * n, {}, rules.splice_mean * n};
    case PartKind::connectors:
      return {rules.connector_max * n, {}, rules.connector_max * n, {}, rules.connector_mean * n};
    case PartKind::splitter: {
      const SplitterType& type = input.catalogue.splitters[part.type];
      const Loss least = ideal_split(std::max(1, type.ports));
      return {type.max_loss, least, type.max_loss, least, type.max_loss};
    }
    case PartKind::margin:
      break;
  }
  return {rules.margin, {}, rules.margin, {}, {}};
}

Ledger sum_up(const OpticsInput& input, const System& system, const std::vector<Part>& parts) {
  Ledger sum;
  if (parts.empty()) return sum;
  for (const Part& part : parts) {
    const PartLoss loss = loss_of(input, system, part);
    sum.down_max += loss.down_max;
    sum.down_min += loss.down_min;
    sum.up_max += loss.up_max;
    sum.up_min += loss.up_min;
    sum.down_expected += loss.down_expected;
    sum.glass += part.length;
  }
  const OpticalClass& c = *system.optical_class;
  sum.down_margin = c.down.max_loss - sum.down_max;
  sum.up_margin = c.up.max_loss - sum.up_max;
  sum.overload_margin = std::min(sum.down_min - c.down.min_loss, sum.up_min - c.up.min_loss);
  return sum;
}

}  // namespace plan
