// The routes of some links of one station as a tree of common beginnings.
//
// Two links share a branch as long as their routes have run through the same spans from the station
// on, so that any set of routes makes a tree, whether or not the streets are one. Branches stand in
// preorder, children by span id; the links below a branch are one stretch of `links`, first those that
// end at the branch itself. O(sum of route lengths).
#pragma once
#include <span>
#include <vector>

#include "base/id.h"
#include "network/network.h"

namespace plan {

struct RouteBranch {
  uint32_t parent = 0;
  SpanId span;                  // the last one; invalid at the root
  NodeId node;                  // where it ends
  uint32_t past = 0;            // the branches below are [own index + 1, past)
  uint32_t first = 0, own = 0;  // links that end here: [first, own)
  uint32_t last = 0;            // links that end here or below: [first, last)
};

struct RouteTree {
  std::vector<RouteBranch> branches;  // [0]: the station
  std::vector<LinkId> links;
};

struct RoutedLink {
  LinkId link;
  std::span<const SpanId> route;
};
RouteTree make_route_tree(const Network& network, NodeId station, std::span<const RoutedLink> links);

// The node at the other end of a span that touches `at`.
NodeId far_end(const Network& network, SpanId span, NodeId at);

}  // namespace plan
