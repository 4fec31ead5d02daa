// Private to `optics`: the one walk along a light path that counts its parts.
#pragma once
#include <vector>

#include "optics/optics.h"

namespace plan {

enum class PartKind : uint8_t { glass, riser, splices, connectors, splitter, margin };
enum class PartPlace : uint8_t { headend, cabinet, branch_point, building, outlet, path };

struct Part {
  PartKind kind = PartKind::glass;
  PartPlace place = PartPlace::path;  // of glass: where it ends
  Length length;                      // of glass and riser
  int pieces = 1;
  SplitterTypeId type;  // of a splitter
};

// The parts from the OLT port to the outlet, margin last, into `parts` (emptied first). None where the
// dwelling has no light or a splitter on the way is not in the catalogue.
void walk_light_path(const OpticsInput& input, DwellingId dwelling, std::vector<Part>& parts);

}  // namespace plan
