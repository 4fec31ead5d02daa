#include "layout/serving.h"

#include <algorithm>

#include "layout/groups.h"
#include "layout/placing.h"

namespace plan {
namespace {

int capped(int64_t n) {
  return static_cast<int>(std::min<int64_t>(n, INT32_MAX));
}

// A member and what it stands for: a branch point or a premises.
struct Demanding {
  GroupMember member;
  uint32_t point = no_index;
  PremisesId premises;
};

class Serving {
 public:
  Serving(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages)
      : in_(input), forest_(forest), stages_(stages), placer_(input.network, forest) {
    draft_.servers.resize(input.network.premises_nodes.size());
  }

  ServingDraft run() {
    std::vector<Demanding> demanding = premises();
    if (stages_.branch_point.count > 0) demanding = behind_branch_points(std::move(demanding));
    serve(std::move(demanding));
    return std::move(draft_);
  }

 private:
  std::vector<Demanding> premises() const {
    std::vector<Demanding> all;
    for (PremisesId p : in_.network.premises_nodes.ids()) {
      const NodeId n = in_.network.premises_nodes[p];
      if (!in_.basis.needs[p].planned || !n.valid() || !forest_.holds(n)) continue;
      all.push_back({{n, dwellings_held(in_, stages_, p), reach_of(in_, p)}, no_index, p});
    }
    return all;
  }

  // Branch points first: from here on they are what cabinets serve.
  std::vector<Demanding> behind_branch_points(std::vector<Demanding> all) {
    const StationPlaces places = branch_point_places(forest_, in_.network);
    std::vector<Demanding> after = taken_out(all, places);
    const std::vector<GroupMember> members = members_of(all);
    const GroupLimits limits{std::max(1, in_.rules.branch_point_premises), stages_.branch_point.lights};
    for (const StationGroup& group : cut_into_groups(forest_, places, members, limits)) {
      const NodeId node = placer_.place(group, members, places, {1, 1});
      const auto point = static_cast<uint32_t>(draft_.points.size());
      draft_.points.push_back({.node = node});
      Demanding d{{node, whole_multiple(group.dwellings, stages_.branch_point.lights), INT64_MAX}, point, {}};
      for (uint32_t i : group.members) {
        draft_.servers[all[i].premises] = {ServedBy::branch_point, point};
        d.member.reach = std::min(d.member.reach, members[i].reach - length(node, members[i].node));
      }
      after.push_back(d);
    }
    return after;
  }

  // Areas on the forest, then what the headends take over, then a cabinet for each of the others.
  void serve(std::vector<Demanding> all) {
    const StationPlaces places = cabinet_places(forest_, in_.network, in_.basis);
    const CabinetLimits& cabinet = in_.basis.cabinet;
    const bool any_cabinet = cabinet.premises > 0 && cabinet.dwellings > 0;
    std::vector<Demanding> stranded;
    if (any_cabinet)
      stranded = taken_out(all, places);
    else
      std::swap(stranded, all);
    Table<HeadendId, int> entries(in_.basis.headends.size());
    for (HeadendId h : entries.ids()) entries[h] = in_.basis.headends[h].microduct_entries;
    serve_stranded(stranded, entries);

    const std::vector<GroupMember> members = members_of(all);
    std::vector<StationGroup> areas;
    if (any_cabinet) areas = cut_into_groups(forest_, places, members, {cabinet.premises, cabinet.dwellings});
    const std::vector<uint8_t> direct = areas_of_headends(areas, entries);
    for (size_t i = 0; i < areas.size(); ++i) {
      PremisesServer server{ServedBy::headend, no_index};
      if (!direct[i]) {
        server = {ServedBy::cabinet, static_cast<uint32_t>(draft_.cabinets.size())};
        draft_.cabinets.push_back({placer_.place(areas[i], members, places, metre_weights(in_.basis))});
      }
      for (uint32_t l : areas[i].members) assign(all[l], server);
    }
  }

  void assign(const Demanding& d, PremisesServer server) {
    if (d.point == no_index)
      draft_.servers[d.premises] = server;
    else
      draft_.points[d.point].cabinet = server.index;
  }

  // Removes those that no place can serve; a reach that ends before the nearest place is stretched to it,
  // and what is too long stays a finding.
  std::vector<Demanding> taken_out(std::vector<Demanding>& all, const StationPlaces& places) const {
    std::vector<Demanding> out, kept;
    for (Demanding& d : all) {
      const int64_t nearest = places.nearest(d.member.node);
      if (nearest == INT64_MAX) {
        out.push_back(d);
        continue;
      }
      d.member.reach = std::max(d.member.reach, nearest);
      kept.push_back(d);
    }
    all = std::move(kept);
    return out;
  }
  static std::vector<GroupMember> members_of(const std::vector<Demanding>& all) {
    std::vector<GroupMember> members;
    members.reserve(all.size());
    for (const Demanding& d : all) members.push_back(d.member);
    return members;
  }
  int64_t length(NodeId a, NodeId b) const {
    return forest_.depth[a] + forest_.depth[b] - 2 * forest_.depth[forest_.meet(a, b)];
  }

  // No cabinet can stand in their tree: the headend serves the nearest as far as its entries go.
  void serve_stranded(std::vector<Demanding>& stranded, Table<HeadendId, int>& entries) {
    std::stable_sort(stranded.begin(), stranded.end(), [&](const Demanding& x, const Demanding& y) {
      return forest_.depth[x.member.node] < forest_.depth[y.member.node];
    });
    for (const Demanding& d : stranded) {
      int& left = entries[forest_.headend[d.member.node]];
      if (left > 0 && forest_.depth[d.member.node] <= d.member.reach) {
        --left;
        assign(d, {ServedBy::headend, no_index});
      } else {
        give_up(d);
      }
    }
  }
  void give_up(const Demanding& d) {
    if (d.point != no_index) draft_.points[d.point].served = false;
  }

  // 1 for every area that its headend serves itself: whole areas, the nearest first.
  std::vector<uint8_t> areas_of_headends(const std::vector<StationGroup>& areas,
                                         Table<HeadendId, int>& entries) const {
    const auto farthest = [&](const StationGroup& g) {
      return std::max(forest_.depth[g.reach.a.node], forest_.depth[g.reach.b.node]);
    };
    const auto in_reach = [&](const StationGroup& g) {
      return forest_.depth[g.reach.a.node] <= g.reach.a.reach &&
             forest_.depth[g.reach.b.node] <= g.reach.b.reach;
    };
    std::vector<size_t> order;
    for (size_t i = 0; i < areas.size(); ++i)
      if (in_reach(areas[i])) order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](size_t x, size_t y) { return farthest(areas[x]) < farthest(areas[y]); });
    std::vector<uint8_t> direct(areas.size(), 0);
    for (size_t i : order) {
      int& left = entries[forest_.headend[areas[i].top]];
      const auto wanted = static_cast<int64_t>(areas[i].members.size());
      if (wanted > left) continue;
      left -= static_cast<int>(wanted);
      direct[i] = 1;
    }
    return direct;
  }

  const LayoutInput& in_;
  const TrenchForest& forest_;
  const StagePlan& stages_;
  StationPlacer placer_;
  ServingDraft draft_;
};

}  // namespace

int whole_multiple(int64_t dwellings, int lights) {
  return capped((dwellings + lights - 1) / lights * lights);
}

StagePlan stage_plan(const LayoutRules& rules) {
  StagePlan plan;
  for (const SplitStage& s : rules.split) {
    StagePlan::At& at = s.at == SplitterPlace::headend        ? plan.headend
                        : s.at == SplitterPlace::cabinet      ? plan.cabinet
                        : s.at == SplitterPlace::branch_point ? plan.branch_point
                                                              : plan.building;
    ++at.count;
    at.lights = capped(int64_t{at.lights} * std::max(1, s.ratio));
  }
  for (StagePlan::At* at : {&plan.headend, &plan.cabinet, &plan.branch_point, &plan.building}) {
    at->first = plan.total;
    plan.total += at->count;
  }
  plan.branch_point.lights = capped(int64_t{plan.branch_point.lights} * plan.building.lights);
  plan.cabinet.lights = capped(int64_t{plan.cabinet.lights} * plan.branch_point.lights);
  plan.headend.lights = capped(int64_t{plan.headend.lights} * plan.cabinet.lights);
  return plan;
}

int64_t reach_of(const LayoutInput& input, PremisesId p) {
  constexpr int64_t no_limit = int64_t{1} << 50;
  const auto limit = [](Length l) { return l > Length{} ? to_whole_millimetres(l) : no_limit; };
  const int64_t asked = input.asks.longest.empty() ? no_limit : limit(input.asks.longest[p]);
  return std::min(limit(input.basis.longest_drop), asked);
}

int dwellings_held(const LayoutInput& input, const StagePlan& stages, PremisesId p) {
  const int dwellings = std::max(1, input.basis.needs[p].dwellings);
  return stages.building.count > 0 && dwellings > 1 ? whole_multiple(dwellings, stages.building.lights)
                                                    : dwellings;
}

ServingDraft draft_serving(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages) {
  return Serving(input, forest, stages).run();
}

}  // namespace plan
