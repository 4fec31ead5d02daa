#include "scenario/merge.h"

#include <algorithm>
#include <vector>

namespace plan {

namespace {

using Entry = std::pair<std::string_view, NodeRef>;

std::vector<Entry> by_key(const Tree& t, NodeRef mapping) {
  std::vector<Entry> entries;
  for (NodeRef p = t.first_child(mapping); p.valid(); p = t.next(p)) entries.emplace_back(t.text(p), p);
  std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.first < b.first; });
  return entries;
}

bool both_mappings(const Tree& t, NodeRef a, NodeRef b) {
  return t.kind(a) == TreeKind::mapping && t.kind(b) == TreeKind::mapping;
}

}  // namespace

NodeRef same_mapping(Tree& tree, NodeRef like) {
  const uint16_t file = tree.file(like);
  tree.select_file(file);
  const NodeRef copy = tree.add(TreeKind::mapping, "", tree.line(like), tree.column(like));
  for (NodeRef p = tree.first_child(like); p.valid(); p = tree.next(p)) tree.append_same(copy, p);
  return copy;
}

void merge_into(Tree& tree, NodeRef lower, NodeRef upper) {
  const std::vector<Entry> entries = by_key(tree, lower);
  for (NodeRef pair = tree.first_child(upper); pair.valid(); pair = tree.next(pair)) {
    const std::string_view key = tree.text(pair);
    const auto at = std::lower_bound(entries.begin(), entries.end(), key,
                                     [](const Entry& e, std::string_view k) { return e.first < k; });
    if (at == entries.end() || at->first != key) {
      tree.append_same(lower, pair);
    } else {
      const NodeRef old = tree.value(at->second);
      tree.replace_pair(at->second, pair);
      if (!both_mappings(tree, old, tree.value(pair))) continue;
      const NodeRef copy = same_mapping(tree, old);  // the old one may be shared with the layer it came from
      merge_into(tree, copy, tree.value(pair));
      tree.set_value(at->second, copy);
    }
  }
}

}  // namespace plan
