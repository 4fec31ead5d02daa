// Stations, links and routes from the draft, in the order that the layout promises.
#pragma once
#include "layout/serving.h"

namespace plan {

// Everything but costs, bound and findings.
Layout assemble(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages,
                const ServingDraft& draft);

}  // namespace plan
