// What a microduct must show before anything is blown into it: a mandrel passes, and it holds pressure.
//
//   mandrel <= share x bore (0.85: IEC 60794-5-10 Annex E, as reproduced);  fall <= rule x time
//
// A long hold is compared at one temperature: the absolute pressure of a sealed duct follows T, so 1 K of
// cooling at 10 bar gauge and 20 C reads 0.0376 bar less without any leak. Limits are rules, passed in.
// Compressed air hurts people: barrier, radio, catcher, local code.
#pragma once
#include "base/quantity.h"

namespace plan {

// Largest mandrel or bead asked for: share x bore.
Length mandrel(Length bore, double share);

struct PressureReading {
  Pressure pressure;
  Temperature air = celsius(20);
};
// What the reading would be at another temperature, with no leak and no change of volume.
Pressure at_temperature(const PressureReading& reading, Temperature other);

struct PressureVerdict {
  double fall_bar = 0;     // from start to end, end brought to the temperature of the start
  double allowed_bar = 0;  // rule x time
  bool passes = false;     // fall <= allowed, to 1e-9 bar
};
PressureVerdict pressure_test(const PressureReading& start, const PressureReading& end, double held_minutes,
                              double allowed_bar_per_minute);

}  // namespace plan
