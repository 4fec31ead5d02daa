#include "layout/places.h"

#include <algorithm>
#include <utility>

namespace plan {

StationPlaces::StationPlaces(const TrenchForest& forest, Table<NodeId, uint8_t> allowed, size_t how_many)
    : allowed_(std::move(allowed)), how_many_(how_many), near_(allowed_.size() * how_many) {
  const auto between = [&](NodeId child) { return forest.depth[child] - forest.depth[forest.parent[child]]; };
  const auto pass_on = [&](NodeId from, NodeId to, int64_t farther) {
    for (size_t i = 0; i < how_many_; ++i) {
      const Near near = near_[from.value * how_many_ + i];
      if (!near.node.valid()) break;
      offer(to, {near.node, near.distance + farther});
    }
  };
  for (size_t i = forest.order.size(); i-- > 0;) {
    const NodeId n = forest.order[i];
    if (allowed_[n]) offer(n, {n, 0});
    if (forest.parent[n].valid()) pass_on(n, forest.parent[n], between(n));
  }
  for (NodeId n : forest.order)
    if (forest.parent[n].valid()) pass_on(forest.parent[n], n, between(n));
}

// Keeps the list of `to` sorted by distance, then node, every node once.
void StationPlaces::offer(NodeId to, Near near) {
  const std::span<Near> list = std::span<Near>(near_).subspan(to.value * how_many_, how_many_);
  const auto before = [](const Near& a, const Near& b) {
    return a.distance != b.distance ? a.distance < b.distance : a.node < b.node;
  };
  size_t at = 0;
  while (at + 1 < how_many_ && list[at].node != near.node) ++at;
  if (!before(near, list[at])) return;
  list[at] = near;
  for (; at > 0 && before(list[at], list[at - 1]); --at) std::swap(list[at], list[at - 1]);
}

StationPlaces branch_point_places(const TrenchForest& forest, const Network& network) {
  Table<NodeId, uint8_t> allowed(network.at.size());
  for (NodeId n : forest.order) allowed[n] = network.kinds[n] == NodeKind::street;
  for (NodeId n : network.headend_nodes)
    if (n.valid()) allowed[n] = 0;
  return StationPlaces(forest, std::move(allowed), 1);
}

Table<NodeId, uint8_t> cabinet_nodes(const TrenchForest& forest, const Network& network, const Basis& basis) {
  Table<NodeId, uint8_t> allowed(network.at.size());
  if (!basis.sites_only)
    for (NodeId n : forest.order) allowed[n] = network.kinds[n] == NodeKind::street;
  for (SiteId s : network.site_nodes.ids()) {
    const NodeId n = network.site_nodes[s];
    if (n.valid()) allowed[n] = forest.holds(n) && site_is_allowed(basis, s);
  }
  for (NodeId n : network.headend_nodes)
    if (n.valid()) allowed[n] = 0;
  return allowed;
}

StationPlaces cabinet_places(const TrenchForest& forest, const Network& network, const Basis& basis) {
  constexpr size_t alternatives = 4;  // a site may be taken already
  return StationPlaces(forest, cabinet_nodes(forest, network, basis), basis.sites_only ? alternatives : 1);
}

}  // namespace plan
