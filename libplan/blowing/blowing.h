// Stage `blowing`: every blow proven, from the finished duct path, in both directions.
//
// The route of a link is read from its sections: spans with their shape, corners sharper than the
// rule's angle as bends at the laid radius, a turn-out bend where the path leaves a bundle; lesser turns
// are in the tortuosity. Slopes follow from the heights of the nodes, level where not known. On order, the
// whole drop counts, laid or not. The bore is the narrowest on the way, all the way.
//
// The screen of model/blow.h is conservative: what it passes, a full solution of the force balance passes
// too; what it refuses may still go. The share of the length that may be planned is taken as friction
// divided by it, as length falls as friction grows. Push: at most the product's limit, and net of the
// pressure on the unit's section at most the rule's. The supply is the rule's, or the lowest rating of a
// microduct on the way. Chosen is the direction with the larger reserve, from the station where both are
// the same. Equal routes are screened once. O(links x elements²), elements of at most 25 m.
//
// A planning aid: compressed air is dangerous; a trial blow, makers' limits and local codes decide.
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "ducts/ducts.h"
#include "fibre/fibre.h"
#include "network/network.h"
#include "scenario/rules.h"

namespace plan {

struct Blow {
  bool feasible = false;     // also false, with all else empty, where cable or duct path is missing
  bool from_station = true;  // launched at the link's `from`; else at its end
  MicroductId bore;          // the narrowest on the way
  Length length;             // nominal duct path
  Pressure supply, needed;   // planned, and the least that passes the screen
  Force push_needed, push_available;
  Length push_only;  // how far pushing alone gets
  Length limiting;   // head position of the least reserve
  int bends = 0;
  double free_air_litres_per_minute = 0;  // bare bore, before leakage
  Work running;                           // at planned speed
  friend bool operator==(const Blow&, const Blow&) = default;
};

struct Blowing {
  Table<LinkId, Blow> blows;
  Findings findings;
  friend bool operator==(const Blowing&, const Blowing&) = default;
};

struct BlowingInput {
  const Network& network;
  const Layout& layout;
  const Ducts& ducts;
  const Fibre& fibre;
  const DuctCatalogue& duct_catalogue;
  const FibreCatalogue& catalogue;
  const DuctRules& duct_rules;
  const BlowRules& rules;
};
Blowing make_blowing(const BlowingInput& input, const Run& run);

}  // namespace plan
