// Whether a layer was read with its axes in the wrong order.
#pragma once
#include <optional>
#include <string>

#include "estate/map.h"

namespace withy {

// The middle of a map, by the first places of its features.
std::optional<MapPlace> median_place(const Map& map);
// What to say where `layer` lies far from `others` but near once swapped; empty otherwise.
std::string swapped_axes(const Map& layer, const std::optional<MapPlace>& others);

}  // namespace withy
