#include "scenario/merge.h"

#include <fmt/core.h>

#include <algorithm>
#include <vector>

#include "base/text.h"
#include "scenario/reader.h"

namespace plan {

namespace {

using Entry = std::pair<std::string_view, NodeRef>;

std::vector<Entry> by_key(const Tree& t, NodeRef mapping) {
  std::vector<Entry> entries;
  for (NodeRef p = t.first_child(mapping); p.valid(); p = t.next(p)) entries.emplace_back(t.text(p), p);
  std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.first < b.first; });
  return entries;
}

NodeRef find_sorted(const std::vector<Entry>& entries, std::string_view key) {
  const auto at = std::lower_bound(entries.begin(), entries.end(), key,
                                   [](const Entry& e, std::string_view k) { return e.first < k; });
  return at == entries.end() || at->first != key ? NodeRef{} : at->second;
}

// Two ways to say one thing: a layer that says one of them takes the other from the layer below.
std::string_view displaced(const Tree& t, NodeRef upper) {
  constexpr std::string_view gross = "per crew day", net = "each";
  const bool says_gross = t.find_pair(upper, gross).valid(), says_net = t.find_pair(upper, net).valid();
  if (says_gross == says_net) return {};
  return says_gross ? net : gross;
}

bool both_mappings(const Tree& t, NodeRef a, NodeRef b) {
  return t.kind(a) == TreeKind::mapping && t.kind(b) == TreeKind::mapping;
}

}  // namespace

NodeRef same_mapping(Tree& tree, NodeRef like, std::string_view without) {
  const uint16_t file = tree.file(like);
  tree.select_file(file);
  const NodeRef copy = tree.add(TreeKind::mapping, "", tree.line(like), tree.column(like));
  for (NodeRef p = tree.first_child(like); p.valid(); p = tree.next(p))
    if (without.empty() || tree.text(p) != without) tree.append_same(copy, p);
  return copy;
}

void merge_into(Tree& tree, NodeRef lower, NodeRef upper) {
  const std::vector<Entry> entries = by_key(tree, lower);
  for (NodeRef pair = tree.first_child(upper); pair.valid(); pair = tree.next(pair)) {
    const NodeRef below = find_sorted(entries, tree.text(pair));
    if (!below.valid()) {
      tree.append_same(lower, pair);
      continue;
    }
    const NodeRef old = tree.value(below);
    tree.replace_pair(below, pair);
    if (!both_mappings(tree, old, tree.value(pair))) continue;
    // A copy: the old one may be shared with the layer it came from.
    const NodeRef copy = same_mapping(tree, old, displaced(tree, tree.value(pair)));
    merge_into(tree, copy, tree.value(pair));
    tree.set_value(below, copy);
  }
}

void add_missing(Tree& tree, NodeRef to, NodeRef from) {
  const std::vector<Entry> there = by_key(tree, to);
  for (NodeRef pair = tree.first_child(from); pair.valid(); pair = tree.next(pair))
    if (!find_sorted(there, tree.text(pair)).valid()) tree.append_same(to, pair);
}

void find_misfits(const Tree& tree, NodeRef lower, NodeRef upper, Diagnostics& into) {
  const std::vector<Entry> entries = by_key(tree, lower);
  for (NodeRef pair = tree.first_child(upper); pair.valid(); pair = tree.next(pair)) {
    const NodeRef below = find_sorted(entries, tree.text(pair));
    if (!below.valid() || tree.kind(tree.value(below)) != TreeKind::mapping) continue;
    const NodeRef value = tree.value(pair);
    if (tree.kind(value) == TreeKind::mapping) {
      find_misfits(tree, tree.value(below), value, into);
    } else if (tree.kind(value) == TreeKind::null) {
      into.push_back(tree.fault(pair, fmt::format("'{}' has no value", shown(tree.text(pair)))));
    } else {
      into.push_back(tree.fault(pair, fmt::format("'{}' is {}, expected keys with values",
                                                  shown(tree.text(pair)), found_text(tree, value))));
    }
  }
}

}  // namespace plan
