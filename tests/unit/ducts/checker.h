// What must hold for any duct plan, re-derived from its tables and the routes alone.
#pragma once
#include <string>
#include <vector>

#include "ducts/ducts.h"

namespace plan {

// Every fault found, in words; empty for a sound plan.
std::vector<std::string> faults_of(const DuctInput& in, const Ducts& ducts);

}  // namespace plan
