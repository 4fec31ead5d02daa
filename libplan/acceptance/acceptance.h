// Stage `acceptance`: what the tests must read, with limits, by testable thing.
//
// Every duct path: air flow, bead and pressure hold before its blow. Every dwelling: the loss its link
// was designed for at the test wavelengths, never the class maximum (a limit at the class maximum would
// accept a faulty short link); limit = design loss with maximum values + tolerance.
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "blowing/blowing.h"
#include "optics/optics.h"

namespace plan {

struct DuctTest {
  Length bead;               // diameter of the calibration bead, 0.85 of the narrowest bore
  Pressure hold;             // for hold_minutes
  int hold_minutes = 2;
  double largest_fall_bar_per_minute = 0.5;
  friend bool operator==(const DuctTest&, const DuctTest&) = default;
};
struct LightTest {
  Loss expected_down, limit_down;  // OLT port to outlet, margin left out
  Level expected_level, least_level;  // at the outlet, downstream; only where powers are known
  bool levels_known = false;
  friend bool operator==(const LightTest&, const LightTest&) = default;
};

struct Acceptance {
  Table<LinkId, DuctTest> ducts;
  Table<DwellingId, LightTest> light;
  Findings findings;
  friend bool operator==(const Acceptance&, const Acceptance&) = default;
};

Acceptance make_acceptance(const OpticsInput& input, const Blowing& blowing, const Optics& optics,
                           const DuctCatalogue& ducts, const Run& run);

}  // namespace plan
