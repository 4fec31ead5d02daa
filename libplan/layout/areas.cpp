#include "layout/areas.h"

#include <algorithm>

#include "layout/trading.h"

namespace plan {
namespace {

GroupLimits limits_of(const Basis& basis, bool fill_up) {
  return {basis.cabinet.premises, basis.cabinet.dwellings, fill_up};
}

// Moves the areas that headends serve themselves out of `areas`.
std::vector<StationGroup> direct_areas(const AreaGround& ground, Table<HeadendId, int> entries,
                                       std::vector<StationGroup>& areas) {
  const Table<NodeId, int64_t>& depth = ground.forest.depth;
  const auto farthest = [&](const StationGroup& g) {
    return std::max(depth[g.reach.a.node], depth[g.reach.b.node]);
  };
  std::vector<size_t> order;
  for (size_t i = 0; i < areas.size(); ++i)
    if (overrun_at_headend(ground.forest, areas[i].reach) <= 0) order.push_back(i);
  std::stable_sort(order.begin(), order.end(),
                   [&](size_t x, size_t y) { return farthest(areas[x]) < farthest(areas[y]); });
  std::vector<StationGroup> direct;
  for (size_t i : order) {
    int& left = entries[ground.forest.headend[areas[i].top]];
    const size_t wanted = areas[i].members.size();
    if (left <= 0 || wanted > static_cast<size_t>(left)) continue;
    left -= static_cast<int>(wanted);
    direct.push_back(std::move(areas[i]));
    areas[i].members.clear();
  }
  std::erase_if(areas, [](const StationGroup& g) { return g.members.empty(); });
  return direct;
}

void add_cabinets(AreaPlan& plan, const AreaGround& ground, std::vector<StationGroup> areas) {
  for (StationGroup& g : areas) {
    const NodeId node = plan.placer.best(g, ground.members, ground.places, metre_weights(ground.basis));
    plan.placer.take(node);
    plan.cabinets.push_back(node);
    plan.areas.push_back(std::move(g));
  }
}

AreaPlan planned(const AreaGround& ground, const Table<HeadendId, int>& entries, StationPlacer placer,
                 bool fill_up) {
  const GroupLimits limits = limits_of(ground.basis, fill_up);
  std::vector<StationGroup> areas = cut_into_groups(ground.forest, ground.places, ground.members, limits);
  AreaPlan plan{direct_areas(ground, entries, areas), {}, std::move(placer)};
  plan.cabinets.resize(plan.areas.size());
  const TradingGround market{ground.forest, ground.places, ground.members, limits,
                             metre_weights(ground.basis)};
  add_cabinets(plan, ground, traded(market, std::move(areas), plan.placer));
  return plan;
}

Money cost_of(const AreaPlan& plan, const AreaGround& ground) {
  Length feeder, microduct;
  int64_t cabinets = 0;
  for (size_t i = 0; i < plan.areas.size(); ++i) {
    const bool direct = !plan.cabinets[i].valid();
    if (!direct) ++cabinets, feeder += whole_millimetres(ground.forest.depth[plan.cabinets[i]]);
    for (uint32_t m : plan.areas[i].members) {
      const NodeId n = ground.members[m].node;
      microduct +=
          whole_millimetres(direct ? ground.forest.depth[n] : ground.forest.length(n, plan.cabinets[i]));
    }
  }
  return ground.basis.cabinet_cost * cabinets + ground.basis.feeder_metre.times_metres(feeder) +
         microduct_metre(ground.basis).times_metres(microduct);
}

}  // namespace

AreaPlan plan_areas(const AreaGround& ground, const Table<HeadendId, int>& entries,
                    const StationPlacer& placer) {
  AreaPlan compact = planned(ground, entries, placer, false), full = planned(ground, entries, placer, true);
  return cost_of(full, ground) < cost_of(compact, ground) ? std::move(full) : std::move(compact);
}

void cut_again(AreaPlan& plan, const AreaGround& ground, const std::vector<GroupMember>& asked) {
  std::vector<uint32_t> which;  // members of areas with an ask that does not hold
  for (size_t i = 0; i < plan.areas.size(); ++i) {
    StationGroup& area = plan.areas[i];
    const auto is_too_far = [&](uint32_t m) {
      const NodeId n = asked[m].node;
      const int64_t now =
          plan.cabinets[i].valid() ? ground.forest.length(n, plan.cabinets[i]) : ground.forest.depth[n];
      return now > asked[m].reach && now > ground.places.nearest(n);
    };
    if (std::none_of(area.members.begin(), area.members.end(), is_too_far)) continue;
    which.insert(which.end(), area.members.begin(), area.members.end());
    if (plan.cabinets[i].valid()) plan.placer.leave(plan.cabinets[i]);
    area.members.clear();
  }
  if (which.empty()) return;
  std::vector<GroupMember> members;
  members.reserve(which.size());
  for (uint32_t m : which) members.push_back(asked[m]);
  const AreaGround again{ground.basis, ground.forest, ground.places, members};
  const size_t first = plan.areas.size();
  add_cabinets(plan, again,
               cut_into_groups(ground.forest, ground.places, members, limits_of(ground.basis, false)));
  for (size_t i = first; i < plan.areas.size(); ++i)
    for (uint32_t& m : plan.areas[i].members) m = which[m];
}

}  // namespace plan
