#include "layout/serving.h"

#include <algorithm>
#include <utility>

#include "layout/areas.h"

namespace plan {
namespace {

// A length of 0 stands for no limit.
int64_t limit_or_none(Length l) {
  return l > Length{} ? to_whole_millimetres(l) : int64_t{1} << 50;
}
int capped(int64_t n) {
  return static_cast<int>(std::min<int64_t>(n, INT32_MAX));
}

// What a station serves: a branch point or a premises. Asks are kept aside from what holds without them.
struct Demanding {
  GroupMember member;
  int64_t asked = 0;  // its reach under the asks
  uint32_t point = no_index;
  PremisesId premises;
};

class Serving {
 public:
  Serving(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages)
      : in_(input), forest_(forest), stages_(stages), placer_(input.network, forest) {
    draft_.servers.resize(input.network.premises_nodes.size());
    entries_.resize(input.basis.headends.size());
    for (HeadendId h : entries_.ids()) entries_[h] = input.basis.headends[h].microduct_entries;
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
      const int64_t reach = limit_or_none(in_.basis.longest_drop);
      all.push_back({{n, dwellings_held(in_, stages_, p), reach}, reach_of(in_, p), no_index, p});
    }
    return all;
  }

  // Branch points first: from here on they are what cabinets serve.
  std::vector<Demanding> behind_branch_points(std::vector<Demanding> all) {
    const StationPlaces places = branch_point_places(forest_, in_.network);
    std::vector<Demanding> after = without_place(all, places);
    const std::vector<GroupMember> members = members_of(all);
    const GroupLimits limits{std::max(1, in_.rules.branch_point_premises), stages_.branch_point.lights, true};
    for (const StationGroup& group : cut_into_groups(forest_, places, members, limits)) {
      const NodeId node = placer_.best(group, members, places, {1, 1});
      placer_.take(node);
      const auto point = static_cast<uint32_t>(draft_.points.size());
      draft_.points.push_back({.node = node});
      const int dwellings = whole_multiple(group.dwellings, stages_.branch_point.lights);
      Demanding d{{node, dwellings, INT64_MAX}, INT64_MAX, point, {}};
      for (uint32_t i : group.members) {
        draft_.servers[all[i].premises] = {ServedBy::branch_point, point};
        const int64_t drop = forest_.length(node, members[i].node);
        d.member.reach = std::min(d.member.reach, members[i].reach - drop);
        d.asked = std::min(d.asked, all[i].asked - drop);
      }
      after.push_back(d);
    }
    return after;
  }

  void serve(std::vector<Demanding> all) {
    const StationPlaces places = cabinet_places(forest_, in_.network, in_.basis);
    const bool any_cabinet = in_.basis.cabinet.premises > 0 && in_.basis.cabinet.dwellings > 0;
    serve_stranded(any_cabinet ? without_place(all, places) : std::exchange(all, {}));

    const std::vector<GroupMember> members = members_of(all);
    const AreaGround ground{in_.basis, forest_, places, members};
    AreaPlan plan = plan_areas(ground, entries_, placer_);
    std::vector<GroupMember> asked = members;
    for (size_t i = 0; i < all.size(); ++i)
      asked[i].reach = std::min(asked[i].reach, std::max(all[i].asked, places.nearest(all[i].member.node)));
    cut_again(plan, ground, asked);
    for (size_t i = 0; i < plan.areas.size(); ++i) {
      if (plan.areas[i].members.empty()) continue;
      PremisesServer server{ServedBy::headend, no_index};
      if (plan.cabinets[i].valid()) {
        server = {ServedBy::cabinet, static_cast<uint32_t>(draft_.cabinets.size())};
        draft_.cabinets.push_back({plan.cabinets[i]});
      }
      for (uint32_t m : plan.areas[i].members) assign(all[m], server);
    }
  }

  void assign(const Demanding& d, PremisesServer server) {
    if (d.point == no_index)
      draft_.servers[d.premises] = server;
    else
      draft_.points[d.point].cabinet = server.index;
  }

  // Takes out those that no place can serve; a reach that ends before the nearest place is stretched to it,
  // and what is too long stays a finding.
  static std::vector<Demanding> without_place(std::vector<Demanding>& all, const StationPlaces& places) {
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

  // No cabinet can stand in their tree: the headend serves the nearest as far as its entries go.
  void serve_stranded(std::vector<Demanding> stranded) {
    std::stable_sort(stranded.begin(), stranded.end(), [&](const Demanding& x, const Demanding& y) {
      return forest_.depth[x.member.node] < forest_.depth[y.member.node];
    });
    for (const Demanding& d : stranded) {
      int& left = entries_[forest_.headend[d.member.node]];
      if (left > 0 && forest_.depth[d.member.node] <= d.member.reach) {
        --left;
        assign(d, {ServedBy::headend, no_index});
      } else if (d.point != no_index) {
        draft_.points[d.point].served = false;
      }
    }
  }

  const LayoutInput& in_;
  const TrenchForest& forest_;
  const StagePlan& stages_;
  StationPlacer placer_;
  Table<HeadendId, int> entries_;  // left for direct service
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
  const Length asked = input.asks.longest.empty() ? Length{} : input.asks.longest[p];
  return std::min(limit_or_none(input.basis.longest_drop), limit_or_none(asked));
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
