// One scalar into one member. Private to the reader.
#pragma once
#include "scenario/reader.h"

namespace plan {

// False where the scalar does not fit; then a fault has been added and the member keeps its value.
bool store_scalar(Reading& r, NodeRef node, const Field& f, void* member);
// Whether a terminal or a sheet could stumble over it: control characters other than line break and tab.
bool holds_control(std::string_view text);
// Kinds position and line, which are lists in documents and may be text in tables.
bool store_geometry(Reading& r, NodeRef node, const Field& f, void* member);

}  // namespace plan
