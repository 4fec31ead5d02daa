// What the scenario's split stages mean for fibres and ports. Private to `basis`.
#pragma once
#include <algorithm>
#include <cstdint>
#include <vector>

#include "scenario/rules.h"

namespace plan {

// Outputs of all stages at a place, one after another, for one input; 1 where there is none.
inline int64_t split_at(const std::vector<SplitStage>& stages, SplitterPlace place) {
  int64_t product = 1;
  for (const SplitStage& s : stages)
    if (s.at == place) product = std::min<int64_t>(product * std::max(1, s.ratio), INT32_MAX);
  return product;
}
inline bool splits_at(const std::vector<SplitStage>& stages, SplitterPlace place) {
  return std::any_of(stages.begin(), stages.end(), [&](const SplitStage& s) { return s.at == place; });
}
// Splitters that the stages at a place need for one input: 1:4 then 1:8 is one and four more.
inline int64_t splitters_for_one(const std::vector<SplitStage>& stages, SplitterPlace place) {
  int64_t splitters = 0, inputs = 1;
  for (const SplitStage& s : stages)
    if (s.at == place) {
      splitters = std::min<int64_t>(splitters + inputs, INT32_MAX);
      inputs = std::min<int64_t>(inputs * std::max(1, s.ratio), INT32_MAX);
    }
  return splitters;
}

}  // namespace plan
