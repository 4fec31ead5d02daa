#include <algorithm>
#include <array>

#include "basis/longest.h"
#include "model/air.h"
#include "model/blow.h"

namespace plan {
namespace {

constexpr Length corner_every = whole_millimetres(100'000);

BlowConditions conditions_of(const Scenario& s, const Cable& cable, const Microduct& bore) {
  const BlowRules& rules = *s.blow_rules;
  const bool unit = cable.cable_class == CableClass::fibre_unit;
  BlowConditions c;
  c.friction = (unit ? rules.unit_friction : rules.cable_friction) / rules.length_share;
  c.tortuosity = rules.tortuosity;
  c.supply = bore.rated < rules.supply ? bore.rated : rules.supply;
  const Force end_effect = newtons((in_pascals(c.supply) - ambient_pascals) * flow_area(cable.od, {}));
  c.push_limit = std::min(cable.push_limit, rules.net_push_limit + end_effect);
  c.air = rules.air;
  return c;
}

}  // namespace

Length longest_path(const Network& network) {
  Length laid, drop;
  for (const Span& span : network.spans) {
    if (span.kind == SpanKind::drop)
      drop = std::max(drop, span.length);
    else
      laid += span.length;
  }
  return laid + drop;
}

Length longest_blow_of(const Scenario& s, CableId cable, MicroductId bore) {
  if (!cable.valid() || !bore.valid()) return {};
  const Cable& c = s.fibre_catalogue->cables[cable];
  const Microduct& m = s.duct_catalogue->microducts[bore];
  const std::array pattern{RouteElement{corner_every, 0, degrees(90), s.duct_rules->corner_radius}};
  return longest_blow({c.od, c.mass, c.stiffness}, {m.id}, conditions_of(s, c, m), pattern);
}

}  // namespace plan
