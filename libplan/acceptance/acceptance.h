// Stage `acceptance`: what the tests must read, with limits, by testable thing.
//
// Every duct path: air flow, bead and pressure hold before its blow. Every dwelling: the loss its link
// was designed for at the test wavelengths, never the class maximum (a limit at the class maximum would
// accept a faulty short link); limit = design loss with maximum values + tolerance, and never above what the
// class allows. Light is stated at the system's downstream wavelength; a test set at another wavelength reads
// the attenuation difference of the glass more or less.
//
// Sources: bead, hold and fall: IEC 60794-5-10 Annex E as reproduced, and an Indian public project
// specification (10 bar, 2 min, at most 0.5 bar/min); tolerance: spread of light-source readings, common
// practice. The hold is at least the planned supply and never above the rating of the narrowest bore.
// Compressed air and laser light hurt people: local codes and licensed practice come first.
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "blowing/blowing.h"
#include "optics/optics.h"

namespace plan {

inline constexpr double bead_share = 0.85;    // of the bore
inline constexpr double usual_hold_bar = 10;  // gauge
inline constexpr Loss reading_tolerance = decibels(0.3);

struct DuctTest {
  Length bead;    // diameter of the calibration bead; 0 where the path has no bore
  Pressure hold;  // for hold_minutes
  int hold_minutes = 2;
  double largest_fall_bar_per_minute = 0.5;
  friend bool operator==(const DuctTest&, const DuctTest&) = default;
};
struct LightTest {
  Loss expected_down, limit_down;  // OLT port to outlet, margin left out; 0 without light
  Level expected_level;            // at the outlet, downstream, from the middle of the launch window
  Level least_level;               // smallest launch less the limit; both only where powers are known
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
