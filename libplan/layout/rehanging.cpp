#include "layout/rehanging.h"

namespace plan {

Rehanging::Rehanging(TrenchForest& forest, const Network& network)
    : forest_(forest),
      network_(network),
      first_(forest.parent.size()),
      next_(forest.parent.size()),
      before_(forest.parent.size()) {
  for (NodeId n : forest.parent.ids())
    if (forest.parent[n].valid()) add(forest.parent[n], n);
}

void Rehanging::add(NodeId parent, NodeId child) {
  next_[child] = first_[parent];
  before_[child] = {};
  if (first_[parent].valid()) before_[first_[parent]] = child;
  first_[parent] = child;
}

void Rehanging::remove(NodeId parent, NodeId child) {
  if (before_[child].valid())
    next_[before_[child]] = next_[child];
  else
    first_[parent] = next_[child];
  if (next_[child].valid()) before_[next_[child]] = before_[child];
}

void Rehanging::hang(const Chord& chord) {
  for (size_t i = chord.spans.size(); i-- > 0;) {
    const NodeId child = chord.nodes[i], parent = chord.nodes[i + 1];
    if (forest_.parent[child].valid()) remove(forest_.parent[child], child);
    forest_.parent[child] = parent;
    forest_.parent_span[child] = chord.spans[i];
    add(parent, child);
  }
  lift(chord.nodes[chord.nodes.size() - 2]);
}

// Sets what follows from the parents from `top` down; its parent's is right. Parents stand before children.
void Rehanging::lift(NodeId top) {
  std::vector<NodeId> nodes;
  list(top, nodes);
  for (NodeId n : nodes) {
    const NodeId parent = forest_.parent[n];
    forest_.headend[n] = forest_.headend[parent];
    forest_.depth[n] =
        forest_.depth[parent] + to_whole_millimetres(network_.spans[forest_.parent_span[n]].length);
  }
}

}  // namespace plan
