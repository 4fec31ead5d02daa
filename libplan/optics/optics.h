// Stage `optics`: every dwelling's loss from OLT port to outlet, up and down, held against its class.
//
// Largest loss: attenuation column of the rules at the system's wavelengths over all glass with slack,
// worst splitter ports, splices and connectors at their planning values, margin. Least loss: typical
// attenuation, ideal splitters (10 log10 N, which bounds the power-average port), nothing for splices and
// connectors. Checks per direction, tolerance 1e-9 dB: least >= class minimum, largest + margin <= class
// maximum, received powers inside the receiver's window where powers are known, difference within one PON,
// physical reach. Further classes on the same glass are held as well. Source: ITU-T G.652 App. I, G.984.2.
#pragma once
#include <string>
#include <vector>

#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "fibre/fibre.h"
#include "layout/layout.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/rules.h"

namespace plan {

struct Ledger {
  Loss down_max, down_min, up_max, up_min;  // margin included in the maxima
  Loss down_margin, up_margin;   // class maximum minus largest; negative = over
  Loss overload_margin;          // least loss minus class minimum, the smaller of both directions
  Length glass;                  // OLT to outlet
  friend bool operator==(const Ledger&, const Ledger&) = default;
};

struct Optics {
  Table<DwellingId, Ledger> ledgers;
  Table<PonId, Loss> differential;
  Findings findings;
  friend bool operator==(const Optics&, const Optics&) = default;
};

struct OpticsInput {
  const Layout& layout;
  const Fibre& fibre;
  const Demand& demand;
  const FibreCatalogue& catalogue;
  const FibreRules& fibre_rules;
  const OpticRules& rules;
};
Optics make_optics(const OpticsInput& input, const Run& run);

// One line of a dwelling's ledger, from the OLT port outwards: recomputed when asked, never stored.
struct LedgerLine {
  std::string what;              // "feeder glass", "splitter 1:32 at cabinet", "splices at cabinet"
  double amount = 0;             // metres or pieces
  bool in_metres = false;
  Loss down_max, down_min, up_max, up_min;
};
std::vector<LedgerLine> expanded_ledger(const OpticsInput& input, DwellingId dwelling);

}  // namespace plan
