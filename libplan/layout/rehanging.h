// Moving branches of the trench forest from one parent to another while it stays a forest.
#pragma once
#include <vector>

#include "layout/forest.h"

namespace plan {

// A path of spans from a node to the one it is to be hung on.
struct Chord {
  std::vector<NodeId> nodes;  // one more than spans
  std::vector<SpanId> spans;
};

class Rehanging {
 public:
  Rehanging(TrenchForest& forest, const Network& network);
  // Makes every node of the chord a child of the next, the last one staying where it is, and sets headends
  // and depths of all that hangs on them. The last may hang below none of the others. O(what moves).
  void hang(const Chord& chord);
  // Appends `top` and all that hangs on it.
  void list(NodeId top, std::vector<NodeId>& nodes) const {
    list(top, nodes, [](NodeId) { return true; });
  }
  // Likewise, but nothing that hangs on a node which `enters` refuses, nor that node; `top` is asked first.
  template <class Enters>
  void list(NodeId top, std::vector<NodeId>& nodes, Enters&& enters) const {
    size_t at = nodes.size();
    if (!enters(top)) return;
    for (nodes.push_back(top); at < nodes.size(); ++at)
      for (NodeId c = first_[nodes[at]]; c.valid(); c = next_[c])
        if (enters(c)) nodes.push_back(c);
  }

 private:
  void add(NodeId parent, NodeId child);
  void remove(NodeId parent, NodeId child);
  void lift(NodeId top);

  TrenchForest& forest_;
  const Network& network_;
  Table<NodeId, NodeId> first_, next_, before_;  // children as linked lists
};

}  // namespace plan
