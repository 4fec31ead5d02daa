// A document as read: a small arena of nodes with places. YAML, CSV and GeoJSON all become this, so
// one reader with one set of diagnostics serves them all.
//
//   Tree t;
//   t.select_file(t.add_file("rows.csv", ""));
//   NodeRef row = t.add(TreeKind::mapping, "", 2, 1);
//   t.add_entry(row, "dwellings", t.add(TreeKind::scalar, "4", 2, 3));
//   for (NodeRef pair = t.first_child(row); pair.valid(); pair = t.next(pair)) t.text(pair) is the key
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

// Texts of one tree together stay under 4 GiB (checked).
class Tree {
 public:
  // A file whose nodes follow; its lines are kept for carets (the text may be empty for tables).
  uint16_t add_file(std::string name, std::string text);
  // Nodes added from now on belong to this file.
  void select_file(uint16_t file) { file_ = file; }
  const std::string& file_name(uint16_t file) const { return files_[file].name; }
  // Forgets nodes and their texts and keeps the files: a table's next block of rows follows.
  void forget_nodes();

  // Lines and columns count from 1, columns in characters.
  NodeRef add(TreeKind kind, std::string_view text, uint32_t line, uint32_t column, bool quoted = false);
  void append(NodeRef parent, NodeRef child);
  // A pair in a mapping, placed at its value: for rows of tables, whose keys stand in a header.
  NodeRef add_entry(NodeRef mapping, std::string_view key, NodeRef value);

  // The document: the mapping that everything read so far was merged into.
  NodeRef root() const { return root_; }
  void set_root(NodeRef n) { root_ = n; }
  // Merging: `pair` becomes what `upper` is, place and value; a pair like `pair` in another mapping.
  void replace_pair(NodeRef pair, NodeRef upper);
  void set_value(NodeRef pair, NodeRef value);
  void append_same(NodeRef mapping, NodeRef pair);

  TreeKind kind(NodeRef n) const { return nodes_[n.value].kind; }
  bool quoted(NodeRef n) const { return nodes_[n.value].quoted; }
  std::string_view text(NodeRef n) const;
  NodeRef first_child(NodeRef n) const { return {nodes_[n.value].first}; }
  NodeRef next(NodeRef n) const { return {nodes_[n.value].next}; }
  NodeRef value(NodeRef pair) const { return first_child(pair); }
  NodeRef find_pair(NodeRef mapping, std::string_view key) const;  // invalid where absent
  NodeRef find(NodeRef mapping, std::string_view key) const;       // its value; invalid where absent
  size_t size() const { return nodes_.size(); }
  uint16_t file(NodeRef n) const { return nodes_[n.value].file; }
  uint32_t line(NodeRef n) const { return nodes_[n.value].line; }
  uint32_t column(NodeRef n) const { return nodes_[n.value].column; }
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
    std::vector<size_t> line_starts;
  };
  NodeRef push(Node node);
  std::string_view source_line(const File& file, uint32_t line) const;

  std::vector<Node> nodes_;
  std::string pool_;
  std::vector<File> files_;
  uint16_t file_ = 0;
  NodeRef root_;
};

}  // namespace plan
