#include "acceptance/acceptance.h"

#include <algorithm>

#include "model/duct_test.h"

namespace plan {
namespace {

DuctTest duct_test(const Blow& blow, const DuctCatalogue& ducts) {
  DuctTest test;
  test.hold = bar_gauge(usual_hold_bar);
  if (!blow.bore.valid()) return test;
  const Microduct& microduct = ducts.microducts[blow.bore];
  test.bead = mandrel(microduct.id, bead_share);
  if (test.hold < blow.supply) test.hold = blow.supply;
  if (microduct.rated < test.hold) test.hold = microduct.rated;
  return test;
}

LightTest light_test(const OpticsInput& input, const Ledger& ledger) {
  const Direction& down = input.catalogue.classes[static_cast<size_t>(input.rules.optical_class)].down;
  LightTest test;
  if (ledger == Ledger{}) return test;
  const Loss designed = ledger.down_max - input.rules.margin;
  const Loss allowed = std::max(designed, down.max_loss);
  test.expected_down = std::min(ledger.down_expected, designed);
  test.limit_down = std::min(designed + reading_tolerance, allowed);
  test.levels_known = down.powers_known;
  if (!test.levels_known) return test;
  const Loss half_window = (down.transmitter.max - down.transmitter.min) * 0.5;
  test.expected_level = down.transmitter.min + half_window - test.expected_down;
  test.least_level = down.transmitter.min - test.limit_down;
  return test;
}

}  // namespace

Acceptance make_acceptance(const OpticsInput& input, const Blowing& blowing, const Optics& optics,
                           const DuctCatalogue& ducts, const Run& run) {
  run.tell("acceptance", 0);
  Acceptance acceptance;
  acceptance.ducts.reserve(blowing.blows.size());
  for (const Blow& blow : blowing.blows) acceptance.ducts.add(duct_test(blow, ducts));
  acceptance.light.reserve(optics.ledgers.size());
  for (const Ledger& ledger : optics.ledgers) acceptance.light.add(light_test(input, ledger));
  run.tell("acceptance", 1);
  return acceptance;
}

}  // namespace plan
