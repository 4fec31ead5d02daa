// The rules that a finished duct plan is held to; what it breaks becomes findings.
#pragma once
#include "ducts/ducts.h"

namespace plan {

// Bundles in each span, bundles where they may not lie, area fill of existing ducts, fill of the units.
void check_room(const DuctInput& in, Ducts& ducts);
// Radii at corners and turn-outs against the largest minimum of all that lies there, and the laying
// temperature. One finding a kind of place (bundle, single microduct, turn-out), at the sharpest corner
// of the tightest run.
void check_bends(const DuctInput& in, Ducts& ducts);

}  // namespace plan
