// YAML into a Tree. Only plain data passes: aliases, anchors, tags, repeated keys, keys that are not
// text, a second document, bytes that are not UTF-8, and a file that ends inside an open quote are
// refused, each with its place. Nothing is typed here: a scalar stays text until a descriptor says
// what it must be.
#pragma once
#include <string>

#include "base/result.h"
#include "scenario/tree.h"

namespace plan {

struct YamlLimits {
  size_t bytes = 64u << 20;
  size_t nodes = 8'000'000;
  int depth = 64;
};

// The root of the only document of `text`, added to `into` as a file of its own.
Result<NodeRef> read_yaml(const std::string& path, std::string text, Tree& into, YamlLimits limits = {});

}  // namespace plan
