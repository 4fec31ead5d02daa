// How a stage is to run: never part of what it computes.
#pragma once
#include <functional>
#include <string_view>

namespace plan {

struct Run {
  int threads = 1;
  // Called when a stage begins (share 0), makes progress, and ends (share 1).
  std::function<void(std::string_view stage, double share)> on_stage = {};
  void tell(std::string_view stage, double share) const {
    if (on_stage) on_stage(stage, share);
  }
};

}  // namespace plan
