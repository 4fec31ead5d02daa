// Layers of one language: mappings merge key by key, everything else is replaced by the upper layer.
// Values keep the place they were written at.
#pragma once
#include "scenario/tree.h"

namespace plan {

// Merges mapping `upper` into mapping `lower` of the same tree. Nodes of `upper` may be shared by both
// afterwards.
void merge_into(Tree& tree, NodeRef lower, NodeRef upper);
// Adds to mapping `to` the pairs of `from` whose keys it lacks.
void add_missing(Tree& tree, NodeRef to, NodeRef from);
// Where `upper` has something else than keys with values for a key that has them in `lower`: merged, it
// would sweep away what stands there.
void find_misfits(const Tree& tree, NodeRef lower, NodeRef upper, Diagnostics& into);
// A new mapping at the place of `like`, with the same pairs as it had, but for one key.
NodeRef same_mapping(Tree& tree, NodeRef like, std::string_view without = "");

}  // namespace plan
