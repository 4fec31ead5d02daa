// Seconds and peak memory of every stage on invented estates of growing size, beside one Boost.Graph
// shortest-path pass over the same graph in the same run: compare ratios, machines differ.
#pragma once
#include <vector>

namespace withy {

int ladder(const std::vector<int>& sizes, int threads);

}  // namespace withy
