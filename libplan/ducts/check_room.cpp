#include <algorithm>
#include <tuple>

#include "ducts/checks.h"
#include "ducts/packing.h"
#include "model/fill.h"

namespace plan {
namespace {

void check_bundles(const DuctInput& in, Ducts& ducts) {
  for (SpanId s : ducts.runs_in_span.ids()) {
    const auto lying = static_cast<int>(ducts.runs_in_span[s].size());
    if (lying > in.rules.bundles_per_span)
      ducts.findings.push_back({.rule = Rule::bundles_per_span_exceeded,
                                .at = subject(s),
                                .actual = static_cast<double>(lying),
                                .limit = static_cast<double>(in.rules.bundles_per_span),
                                .mend = Mend::larger_bundle});
  }
}

// One finding a bundle and kind of place, at the first span of the kind.
void check_places(const DuctInput& in, Ducts& ducts) {
  std::vector<uint8_t> told(in.catalogue.bundles.size() * 2, 0);
  for (RunId r : ducts.runs.ids()) {
    const BundleId b = ducts.runs[r].bundle;
    for (SpanId s : ducts.run_spans[r]) {
      const LaidIn place = laid_in(in.network, s);
      uint8_t& seen = told[b.value * 2 + static_cast<size_t>(place)];
      if (seen || may_lie(in.catalogue.bundles[b], place)) continue;
      seen = 1;
      ducts.findings.push_back({.rule = Rule::duct_in_wrong_place,
                                .at = subject(s),
                                .by = subject(r),
                                .mend = place == LaidIn::existing_duct ? Mend::dig_beside : Mend::none});
    }
  }
}

// The limit is the rule's share of what is free, or what these bundles reach where they just pack.
void check_existing_duct(const DuctInput& in, SpanId s, Ducts& ducts) {
  const Route& route = in.demand.routes[in.network.spans[s].route];
  std::vector<Length> outsides;
  Length widest;
  for (RunId r : ducts.runs_in_span[s]) {
    outsides.push_back(in.catalogue.bundles[ducts.runs[r].bundle].od);
    widest = std::max(widest, outsides.back());
  }
  const double fill = area_fill(outsides, route.bore);
  const Length packed = scaled(widest, packing_ratio(static_cast<int>(outsides.size())));
  const double limit = std::min(in.rules.pulled_fill.fail * route.free_share, area_fill(outsides, packed));
  const double warn = std::min(in.rules.pulled_fill.warn * route.free_share, limit);
  if (fill > limit)
    ducts.findings.push_back({.rule = Rule::existing_duct_full,
                              .at = subject(s),
                              .actual = fill,
                              .limit = limit,
                              .mend = Mend::dig_beside});
  else if (fill > warn)
    ducts.findings.push_back(
        {.rule = Rule::fill_high, .at = subject(s), .actual = fill, .limit = warn, .mend = Mend::dig_beside});
}

// One finding a unit and microduct, at the first link that has both.
void check_unit_fill(const DuctInput& in, Ducts& ducts) {
  std::vector<uint8_t> told(in.cables.cables.size() * in.catalogue.microducts.size(), 0);
  for (LinkId l : ducts.paths.ids()) {
    const PremisesId p = in.layout.links[l].premises;
    const CableId unit = p.valid() ? in.basis.needs[p].unit : CableId();
    if (!unit.valid()) continue;
    for (SectionId s : ducts.paths[l]) {
      const MicroductId m = in.catalogue.bundles[ducts.runs[ducts.sections[s].run].bundle].microduct;
      uint8_t& seen = told[unit.value * in.catalogue.microducts.size() + m.value];
      if (std::exchange(seen, uint8_t{1})) continue;
      const Cable& cable = in.cables.cables[unit];
      const FillRule& rule =
          cable.cable_class == CableClass::fibre_unit ? in.rules.unit_fill : in.rules.microcable_fill;
      const double fill = area_fill(cable.od, in.catalogue.microducts[m].id);
      if (fill > rule.fail)
        ducts.findings.push_back({.rule = Rule::fill_exceeded,
                                  .at = subject(l),
                                  .actual = fill,
                                  .limit = rule.fail,
                                  .mend = Mend::larger_microduct});
      else if (fill > rule.warn)
        ducts.findings.push_back({.rule = Rule::fill_high,
                                  .at = subject(l),
                                  .actual = fill,
                                  .limit = rule.warn,
                                  .mend = Mend::larger_microduct});
    }
  }
}

}  // namespace

void check_room(const DuctInput& in, Ducts& ducts) {
  check_bundles(in, ducts);
  check_places(in, ducts);
  for (SpanId s : ducts.runs_in_span.ids())
    if (laid_in(in.network, s) == LaidIn::existing_duct && !ducts.runs_in_span[s].empty())
      check_existing_duct(in, s, ducts);
  check_unit_fill(in, ducts);
}

}  // namespace plan
