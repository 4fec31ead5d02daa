// Layers of one language: mappings merge key by key, everything else is replaced by the upper layer.
// Values keep the place they were written at.
#pragma once
#include "scenario/tree.h"

namespace plan {

// Merges mapping `upper` into mapping `lower` of the same tree. Nodes of `upper` may be shared by both
// afterwards.
void merge_into(Tree& tree, NodeRef lower, NodeRef upper);
// A new mapping at the place of `like`, with the same pairs as it had.
NodeRef same_mapping(Tree& tree, NodeRef like);

}  // namespace plan
