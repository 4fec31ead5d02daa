// Private to `optics`: what each part of a light path loses under one class.
#pragma once
#include "optics/light_path.h"

namespace plan {

// Attenuations of one class's wavelengths, read once.
struct System {
  const OpticalClass* optical_class = nullptr;
  Attenuation down_max, down_typical, down_plan, up_max, up_typical;
};
System system_of(const OpticsInput& input, int optical_class);

struct PartLoss {
  Loss down_max, down_min, up_max, up_min, down_expected;
};
PartLoss loss_of(const OpticsInput& input, const System& system, const Part& part);

// Sum over the parts; margins against the class. All zero for no parts.
Ledger sum_up(const OpticsInput& input, const System& system, const std::vector<Part>& parts);

}  // namespace plan
