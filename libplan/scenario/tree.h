// A document as read: a small arena of nodes with places. YAML, CSV and GeoJSON all become this, so
// one reader with one set of diagnostics serves them all.
//
//   Tree t;  NodeRef root = ...;
//   for (NodeRef pair : t.children(root)) t.text(pair) is the key, t.value(pair) its node
//
// A mapping's children are pairs: the pair holds the key text and place, its only child the value.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/place.h"

namespace plan {

enum class TreeKind : uint8_t { scalar, list, mapping, pair, null };
struct NodeRef {
  uint32_t value = UINT32_MAX;
  bool valid() const { return value != UINT32_MAX; }
  friend bool operator==(NodeRef, NodeRef) = default;
};

class Tree {
 public:
  // A file whose nodes follow; its lines are kept for carets (shared text, may be empty for tables).
  uint16_t add_file(std::string name, std::string text);
  NodeRef add(TreeKind kind, std::string_view text, uint32_t line, uint32_t column, bool quoted = false);
  void append(NodeRef parent, NodeRef child);
  // Nodes added from now on belong to this file.
  void select_file(uint16_t file) { file_ = file; }

  TreeKind kind(NodeRef n) const { return nodes_[n.value].kind; }
  bool quoted(NodeRef n) const { return nodes_[n.value].quoted; }
  std::string_view text(NodeRef n) const;
  NodeRef first_child(NodeRef n) const { return {nodes_[n.value].first}; }
  NodeRef next(NodeRef n) const { return {nodes_[n.value].next}; }
  NodeRef value(NodeRef pair) const { return first_child(pair); }
  NodeRef find(NodeRef mapping, std::string_view key) const;  // the value; invalid where absent
  size_t size() const { return nodes_.size(); }
  Place place(NodeRef n) const;
  // A diagnostic at n with its source line and a caret as wide as its text.
  Diagnostic fault(NodeRef n, std::string message) const;

 private:
  struct Node {
    uint32_t text = 0, length = 0, line = 0, column = 0;
    uint32_t first = UINT32_MAX, last = UINT32_MAX, next = UINT32_MAX;
    uint16_t file = 0;
    TreeKind kind = TreeKind::scalar;
    bool quoted = false;
  };
  struct File {
    std::string name, text;
    std::vector<uint32_t> line_starts;
  };
  std::vector<Node> nodes_;
  std::string pool_;
  std::vector<File> files_;
  uint16_t file_ = 0;
};

}  // namespace plan
