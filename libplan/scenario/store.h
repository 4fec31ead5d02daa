// One scalar into one member. Private to the reader.
#pragma once
#include "scenario/reader.h"

namespace plan {

// False where the scalar does not fit; then a fault has been added and the member keeps its value.
bool store_scalar(Reading& r, NodeRef node, const Field& f, void* member);
// Kinds position and line, which are lists in documents and may be text in tables.
bool store_geometry(Reading& r, NodeRef node, const Field& f, void* member);

}  // namespace plan
