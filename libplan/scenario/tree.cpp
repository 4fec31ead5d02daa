#include "scenario/tree.h"

#include <algorithm>

#include "base/check.h"

namespace plan {

namespace {

constexpr size_t longest_shown_line = 240;

uint32_t characters(std::string_view text) {
  return static_cast<uint32_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

}  // namespace

uint16_t Tree::add_file(std::string name, std::string text) {
  PLAN_CHECK(files_.size() < UINT16_MAX);
  File file{std::move(name), std::move(text), {0}};
  for (size_t i = 0; i < file.text.size(); ++i)
    if (file.text[i] == '\n') file.line_starts.push_back(i + 1);
  files_.push_back(std::move(file));
  return static_cast<uint16_t>(files_.size() - 1);
}

void Tree::forget_nodes() {
  nodes_.clear();
  pool_.clear();
  root_ = {};
}

NodeRef Tree::push(Node node) {
  nodes_.push_back(node);
  return {static_cast<uint32_t>(nodes_.size() - 1)};
}

NodeRef Tree::add(TreeKind kind, std::string_view text, uint32_t line, uint32_t column, bool quoted) {
  PLAN_CHECK(pool_.size() + text.size() < UINT32_MAX && nodes_.size() < UINT32_MAX - 1);
  Node node;
  node.text = static_cast<uint32_t>(pool_.size());
  node.length = static_cast<uint32_t>(text.size());
  node.line = line;
  node.column = column;
  node.file = file_;
  node.kind = kind;
  node.quoted = quoted;
  pool_ += text;
  return push(node);
}

void Tree::append(NodeRef parent, NodeRef child) {
  Node& p = nodes_[parent.value];
  if (p.last == UINT32_MAX) {
    p.first = child.value;
  } else {
    nodes_[p.last].next = child.value;
  }
  p.last = child.value;
}

NodeRef Tree::add_entry(NodeRef mapping, std::string_view key, NodeRef value) {
  const NodeRef pair = add(TreeKind::pair, key, line(value), column(value));
  append(pair, value);
  append(mapping, pair);
  return pair;
}

void Tree::set_value(NodeRef pair, NodeRef value) {
  nodes_[pair.value].first = nodes_[pair.value].last = value.value;
}

void Tree::replace_pair(NodeRef pair, NodeRef upper) {
  const uint32_t next = nodes_[pair.value].next;
  nodes_[pair.value] = nodes_[upper.value];
  nodes_[pair.value].next = next;
}

void Tree::append_same(NodeRef mapping, NodeRef pair) {
  Node copy = nodes_[pair.value];
  copy.next = UINT32_MAX;
  append(mapping, push(copy));
}

std::string_view Tree::text(NodeRef n) const {
  const Node& node = nodes_[n.value];
  return std::string_view(pool_).substr(node.text, node.length);
}

NodeRef Tree::find_pair(NodeRef mapping, std::string_view key) const {
  if (!mapping.valid() || kind(mapping) != TreeKind::mapping) return {};
  for (NodeRef pair = first_child(mapping); pair.valid(); pair = next(pair))
    if (text(pair) == key) return pair;
  return {};
}

NodeRef Tree::find(NodeRef mapping, std::string_view key) const {
  const NodeRef pair = find_pair(mapping, key);
  return pair.valid() ? value(pair) : pair;
}

Place Tree::place(NodeRef n) const {
  const Node& node = nodes_[n.value];
  return {files_[node.file].name, node.line, node.column};
}

std::string_view Tree::source_line(const File& file, uint32_t line) const {
  if (file.text.empty() || line == 0 || line > file.line_starts.size()) return {};
  const size_t first = file.line_starts[line - 1];
  const std::string_view rest = std::string_view(file.text).substr(first);
  std::string_view whole = rest.substr(0, rest.find('\n'));
  if (!whole.empty() && whole.back() == '\r') whole.remove_suffix(1);
  return whole;
}

Diagnostic Tree::fault(NodeRef n, std::string message) const {
  const Node& node = nodes_[n.value];
  Diagnostic d = diagnostic(place(n), std::move(message));
  const std::string_view line = source_line(files_[node.file], node.line);
  if (line.size() > longest_shown_line) return d;
  d.source_line = std::string(line);
  const uint32_t width = std::max(1u, characters(text(n))), left = characters(line) + 1;
  d.width = node.column < left ? std::min(width, left - node.column) : 1;
  return d;
}

}  // namespace plan
