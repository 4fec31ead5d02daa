// The files of one scenario as one document: shipped data below, then the files it uses, then itself.
#pragma once
#include <string>

#include "base/result.h"
#include "scenario/scenario.h"

namespace plan {

// Shipped data files are named with this in front.
inline constexpr std::string_view shipped_folder = "shipped/";

// A tree whose root is everything merged. Files that use each other in a circle, or that are used
// twice, are refused, as is an estate or an edit outside the scenario's own file.
Result<Tree> read_layers(const Files& files, const std::string& path);
// What the shipped data alone say.
Result<Tree> read_shipped();

}  // namespace plan
