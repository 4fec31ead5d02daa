// An independent check of a fibre result: every dwelling's light is traced fibre by fibre from its outlet to
// an OLT port, using positions alone, and every fibre, splitter port and OLT port met is noted once.
#pragma once
#include <string>
#include <vector>

#include "fibre/fibre.h"

namespace trace {

// What is wrong, in words; empty where the result holds.
std::vector<std::string> faults(const plan::FibreInput& input, const plan::Fibre& fibre);

}  // namespace trace
