#include "layout/placing.h"

#include <algorithm>
#include <tuple>

#include "base/check.h"

namespace plan {
namespace {

constexpr uint32_t none = UINT32_MAX;

}  // namespace

UnitPrice microduct_metre(const Basis& basis) {
  UnitPrice price = basis.unit_metre;
  if (basis.metre_by_ways.size() > 1)
    price.ten_thousandths +=
        basis.metre_by_ways.back().ten_thousandths / static_cast<int64_t>(basis.metre_by_ways.size() - 1);
  return price;
}

MetreWeights metre_weights(const Basis& basis) {
  constexpr int64_t finest = 64;  // keeps the sums of any estate within 64 bits
  const int64_t member = microduct_metre(basis).ten_thousandths, feeder = basis.feeder_metre.ten_thousandths;
  const int64_t unit = std::max<int64_t>(1, (std::max(member, feeder) + finest - 1) / finest);
  return {std::max<int64_t>(1, feeder / unit), std::max<int64_t>(1, member / unit),
          basis.longest_feeder > Length{} ? to_whole_millimetres(basis.longest_feeder) : INT64_MAX};
}

StationPlacer::StationPlacer(const Network& network, const TrenchForest& forest)
    : forest_(&forest),
      crossing_(network.at.size()),
      taken_(network.at.size()),
      index_(network.at.size(), none) {
  constexpr uint8_t legs_of_crossing = 3;
  Table<NodeId, uint8_t> legs(network.at.size());
  for (const Span& s : network.spans) {
    if (s.kind != SpanKind::street) continue;
    for (NodeId n : {s.from, s.to})
      legs[n] = static_cast<uint8_t>(std::min(legs[n] + 1, int{legs_of_crossing}));
  }
  for (NodeId n : crossing_.ids()) crossing_[n] = legs[n] == legs_of_crossing;
}

void StationPlacer::span(const StationGroup& group, const std::vector<GroupMember>& members) {
  for (const Local& l : local_) index_[l.node] = none;
  local_.clear();
  const auto take = [&](NodeId n) {
    index_[n] = 0;
    local_.push_back({.node = n});
  };
  take(group.top);
  for (uint32_t l : group.members)
    for (NodeId n = members[l].node; index_[n] == none; n = forest_->parent[n]) take(n);
  std::sort(local_.begin(), local_.end(), [&](const Local& x, const Local& y) {
    return forest_->position[x.node] < forest_->position[y.node];
  });
  for (uint32_t i = 0; i < local_.size(); ++i) {
    index_[local_[i].node] = i;
    local_[i].parent = i == 0 ? 0 : index_[forest_->parent[local_[i].node]];
  }
  for (uint32_t l : group.members) ++local_[index_[members[l].node]].members_below;
  local_[index_[group.reach.a.node]].above_a = true;
  local_[index_[group.reach.b.node]].above_b = true;
  for (size_t i = local_.size(); i-- > 1;) {
    Local& up = local_[local_[i].parent];
    up.members_below += local_[i].members_below;
    up.above_a |= local_[i].above_a;
    up.above_b |= local_[i].above_b;
  }
}

// Cost at the top by summing, at every other node from its parent's.
void StationPlacer::weigh(const StationGroup& group, const std::vector<GroupMember>& members,
                          MetreWeights weights) {
  const auto all = static_cast<int64_t>(group.members.size());
  Local& top = local_.front();
  const int64_t depth = forest_->depth[top.node];
  top.cost = depth * weights.feeder;
  for (uint32_t l : group.members) top.cost += (forest_->depth[members[l].node] - depth) * weights.member;
  top.to_a = forest_->depth[group.reach.a.node] - depth;
  top.to_b = forest_->depth[group.reach.b.node] - depth;
  for (size_t i = 1; i < local_.size(); ++i) {
    Local& here = local_[i];
    const Local& up = local_[here.parent];
    const int64_t length = forest_->depth[here.node] - forest_->depth[up.node];
    here.cost = up.cost + length * (weights.member * (all - 2 * here.members_below) + weights.feeder);
    here.to_a = up.to_a + (here.above_a ? -length : length);
    here.to_b = up.to_b + (here.above_b ? -length : length);
  }
}

NodeId StationPlacer::best(const StationGroup& group, const std::vector<GroupMember>& members,
                           const StationPlaces& places, MetreWeights weights) {
  span(group, members);
  weigh(group, members, weights);
  const auto all = static_cast<int64_t>(group.members.size());
  std::tuple<int, int64_t, NodeId> least{INT32_MAX, 0, {}};
  for (const Local& here : local_)
    for (const StationPlaces::Near& near : places.near(here.node)) {
      if (!near.node.valid()) break;
      if (here.to_a + near.distance > group.reach.a.reach || here.to_b + near.distance > group.reach.b.reach)
        break;
      const int64_t feeder = forest_->depth[near.node] - forest_->depth[here.node];
      const int64_t cost = here.cost + near.distance * weights.member * all + feeder * weights.feeder;
      const bool beyond = forest_->depth[near.node] > weights.longest_feeder;
      const int rank = beyond ? 3 : taken_[near.node] ? 2 : crossing_[near.node] ? 1 : 0;
      least = std::min(least, {rank, cost, near.node});
    }
  const NodeId node = std::get<2>(least);
  PLAN_CHECK(node.valid());
  return node;
}

}  // namespace plan
