// How far a blow and the light carry on this estate. Private to `basis`.
#pragma once
#include "basis/basis.h"

namespace plan {

// The longest path that any unit, cable or fibre can be asked for: all that can be laid here, one drop.
Length longest_path(const Network& network);

// Longest blow of `cable` through `bore` on the standard route of docs/design.md: a corner of 90 degrees
// at the laid radius every 100 m. Conditions are those of the blowing stage; the supply is never above
// the microduct's rating. 0 where nothing fits.
Length longest_blow_of(const Scenario& scenario, CableId cable, MicroductId bore);

struct LongestLight {
  Length glass;         // 0 where no glass is left
  Loss split, allowed;  // splitters alone, and the class maximum they must stay below
  bool split_fits = true;
};
// Under every class held, worst port and greatest loss of everything that stands on a path through the
// scenario's stages.
LongestLight longest_light_of(const Scenario& scenario);

}  // namespace plan
