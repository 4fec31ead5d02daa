// Stage `optics`: every dwelling's loss from OLT port to outlet, up and down, held against its class.
//
// Largest loss: attenuation column of the rules at the system's wavelengths over all glass with slack,
// worst splitter ports, splices and connectors at their planning values, margin. Least loss: typical
// attenuation, ideal splitters (10 log10 N, which bounds the power-average port), nothing for splices and
// connectors. Checks per direction, tolerance 1e-9 dB: least >= class minimum, largest + margin <= class
// maximum, received powers inside the receiver's window where powers are known, difference within one PON,
// physical reach. Further classes on the same glass are held as well. Source: ITU-T G.652 App. I, G.984.2.
//
// One walk of the light path counts the parts for both the ledger and its expansion: connectors at the
// headend and at the outlet, and in a patched cabinet; one splice at each end of every cable (one for two
// cables that meet), one at the building point and one at the outlet; between two splitters of one
// station a splice, or a connector of theirs. A splitter with connectors brings those of its station in its
// own loss. The difference in one PON is the largest loss without margin of any dwelling minus the least of
// any other; 0 for a dwelling alone. A dwelling without light, or with a splitter that the catalogue lacks
// (fibre has told), has an empty ledger and no finding.
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
  Loss down_margin, up_margin;              // class maximum minus largest; negative = over
  Loss overload_margin;                     // least loss minus class minimum, the smaller of both directions
  Loss down_expected;                       // planned attenuation, mean splices and connectors, no margin
  Length glass;                             // OLT to outlet
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

// One line of a dwelling's ledger, from the OLT port outwards, the margin last: recomputed when asked, never
// stored. The lines add up to the ledger. Empty where the ledger is.
struct LedgerLine {
  std::string what;   // "feeder glass", "splitter 1:32 at cabinet", "splices at cabinet"
  double amount = 0;  // metres or pieces
  bool in_metres = false;
  Loss down_max, down_min, up_max, up_min;
};
std::vector<LedgerLine> expanded_ledger(const OpticsInput& input, DwellingId dwelling);

}  // namespace plan
