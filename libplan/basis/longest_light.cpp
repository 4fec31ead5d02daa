#include <algorithm>
#include <tuple>

#include "basis/longest.h"
#include "model/loss.h"

namespace plan {
namespace {

// Connectors stand at the headend and in a patched cabinet.
bool patched(const Scenario& s, SplitterPlace place) {
  return place == SplitterPlace::headend ||
         (place == SplitterPlace::cabinet && s.fibre_rules->patched_cabinet);
}

// The splitter that the fibre stage takes: by connectors, then inputs, then loss. Null where there is none.
const SplitterType* splitter_for(const Scenario& s, const SplitStage& stage) {
  const SplitterType* best = nullptr;
  const auto rank = [&](const SplitterType& t) {
    return std::tuple(t.connectorised != patched(s, stage.at), t.inputs, in_decibels(t.max_loss));
  };
  for (const SplitterType& t : s.fibre_catalogue->splitters)
    if (t.ports == stage.ratio && (!best || rank(t) < rank(*best))) best = &t;
  return best;
}

// What stands at one place of a light path that goes through all of them.
struct PlaceLoss {
  Loss splitters;
  int splices = 0, connectors = 0;
};
PlaceLoss loss_at(const Scenario& s, SplitterPlace place) {
  const OpticRules& rules = *s.optic_rules;
  PlaceLoss sum;
  int splitters = 0;
  bool connectors = false;
  for (const SplitStage& stage : s.layout_rules->split) {
    if (stage.at != place) continue;
    const SplitterType* type = splitter_for(s, stage);
    sum.splitters += type ? type->max_loss : ideal_split(std::max(1, stage.ratio));
    connectors |= type && type->connectorised;
    ++splitters;
  }
  const bool always = place == SplitterPlace::headend || place == SplitterPlace::cabinet;
  if (splitters == 0 && !always) return sum;
  sum.splices = 1 + std::max(0, splitters - 1) + (splitters > 0 && place != SplitterPlace::headend ? 1 : 0);
  if (patched(s, place) && !connectors)
    sum.connectors =
        place == SplitterPlace::headend ? rules.connectors_at_headend : rules.connectors_at_cabinet;
  return sum;
}

struct FixedLoss {
  Loss splitters, all;
};
FixedLoss fixed_loss(const Scenario& s) {
  const OpticRules& rules = *s.optic_rules;
  PlaceLoss sum{{}, 1, rules.connectors_at_outlet};  // the outlet's own splice
  for (SplitterPlace place : {SplitterPlace::headend, SplitterPlace::cabinet, SplitterPlace::branch_point,
                              SplitterPlace::building}) {
    const PlaceLoss here = loss_at(s, place);
    sum.splitters += here.splitters;
    sum.splices += here.splices;
    sum.connectors += here.connectors;
  }
  return {sum.splitters,
          sum.splitters + rules.splice_max * sum.splices + rules.connector_max * sum.connectors};
}

Attenuation attenuation_of(const Scenario& s, Wavelength at) {
  const OpticRules& rules = *s.optic_rules;
  const FibreType& fibre = s.fibre_catalogue->fibres[static_cast<size_t>(rules.fibre)];
  std::vector<AttenuationPoint> rows;
  std::vector<AttenuationBand> bands;
  for (const AttenuationRow& r : fibre.attenuation) rows.push_back({r.at, r.plan, r.max});
  for (const BandMaximum& b : fibre.bands) bands.push_back({b.from, b.to, b.max});
  return rules.worst_case_attenuation ? attenuation_max(rows, bands, at) : attenuation_plan(rows, at);
}

}  // namespace

LongestLight longest_light_of(const Scenario& s) {
  LongestLight light;
  const FixedLoss fixed = fixed_loss(s);
  light.split = fixed.splitters;
  std::vector<int> classes{s.optic_rules->optical_class};
  classes.insert(classes.end(), s.optic_rules->also.begin(), s.optic_rules->also.end());
  bool first = true;
  for (int held : classes) {
    const OpticalClass& c = s.fibre_catalogue->classes[static_cast<size_t>(held)];
    for (const plan::Direction& d : {c.down, c.up}) {
      const Length glass =
          longest_fibre({d.min_loss, d.max_loss}, fixed.all, s.optic_rules->margin, attenuation_of(s, d.at));
      const Length reached = c.reach > Length() ? std::min(glass, c.reach) : glass;
      light.glass = first ? reached : std::min(light.glass, reached);
      light.allowed = first ? d.max_loss : std::min(light.allowed, d.max_loss);
      first = false;
    }
  }
  light.split_fits = light.split <= light.allowed;
  return light;
}

}  // namespace plan
