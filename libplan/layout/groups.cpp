#include "layout/groups.h"

#include <algorithm>

#include "base/check.h"

namespace plan {
namespace {

constexpr uint32_t none = UINT32_MAX;

// A group that is still open. Its members are a chain through `next_`.
struct OpenGroup {
  uint32_t first = none, last = none;
  int members = 0, dwellings = 0;
  GroupReach reach;
};

class Cutter {
 public:
  Cutter(const TrenchForest& forest, const StationPlaces& places, const std::vector<GroupMember>& members,
         GroupLimits limits)
      : forest_(forest), places_(places), members_(members), limits_(limits), next_(members.size(), none) {}

  std::vector<StationGroup> run() {
    std::vector<uint32_t> own(members_.size());
    for (uint32_t i = 0; i < own.size(); ++i) own[i] = i;
    sort_along_walk(own);
    std::vector<std::vector<OpenGroup>> waiting(forest_.order.size());
    for (size_t at = forest_.order.size(); at-- > 0;) {
      const NodeId n = forest_.order[at];
      std::vector<OpenGroup> here = std::move(waiting[at]);
      for (; !own.empty() && members_[own.back()].node == n; own.pop_back())
        here.push_back(alone(own.back()));
      if (here.empty()) continue;
      const OpenGroup goes_on = packed(std::move(here), n);
      const NodeId up = forest_.parent[n];
      if (up.valid())
        waiting[forest_.position[up]].push_back(goes_on);
      else
        close(goes_on, n);
    }
    return std::move(closed_);
  }

 private:
  void sort_along_walk(std::vector<uint32_t>& members) const {
    std::sort(members.begin(), members.end(), [&](uint32_t x, uint32_t y) {
      const uint32_t px = forest_.position[members_[x].node], py = forest_.position[members_[y].node];
      return px != py ? px < py : x < y;
    });
  }
  OpenGroup alone(uint32_t m) const { return {m, m, 1, members_[m].dwellings, reach_of(members_[m])}; }
  std::vector<uint32_t> list(const OpenGroup& g) const {
    std::vector<uint32_t> all;
    for (uint32_t m = g.first; all.size() < static_cast<size_t>(g.members); m = next_[m]) all.push_back(m);
    sort_along_walk(all);
    return all;
  }
  OpenGroup chained(const std::vector<uint32_t>& members) {
    OpenGroup g = alone(members.front());
    for (size_t i = 1; i < members.size(); ++i) add(g, members[i]);
    return g;
  }
  void add(OpenGroup& g, uint32_t m) {
    g.reach = united(forest_, g.reach, members_[m]);
    ++g.members;
    g.dwellings += members_[m].dwellings;
    next_[g.last] = m;
    g.last = m;
  }

  bool has_room(const OpenGroup& g, int members, int dwellings) const {
    return g.members + members <= limits_.members && int64_t{g.dwellings} + dwellings <= limits_.dwellings;
  }
  int64_t fill(const OpenGroup& g) const {
    return std::max(int64_t{g.members} * limits_.dwellings, int64_t{g.dwellings} * limits_.members);
  }

  // Closes all groups that meet at a node but the one returned.
  OpenGroup packed(std::vector<OpenGroup> groups, NodeId at) {
    if (groups.size() == 1) return groups.front();
    std::vector<OpenGroup> full = first_fit(std::move(groups), at);
    const auto chosen =
        std::min_element(full.begin(), full.end(), [&](const OpenGroup& x, const OpenGroup& y) {
          const int64_t over_x = std::max<int64_t>(0, overrun(forest_, x.reach, at));
          const int64_t over_y = std::max<int64_t>(0, overrun(forest_, y.reach, at));
          return over_x != over_y ? over_x < over_y : fill(x) < fill(y);
        });
    OpenGroup goes_on = *chosen;
    full.erase(chosen);
    if (limits_.fill_up && forest_.parent[at].valid()) top_up(full, goes_on);
    for (const OpenGroup& g : full) close(g, at);
    return goes_on;
  }

  std::vector<OpenGroup> first_fit(std::vector<OpenGroup> groups, NodeId at) {
    constexpr size_t tried = 64;  // of the latest packed ones: a star of many branches stays linear
    std::stable_sort(groups.begin(), groups.end(), [&](const OpenGroup& x, const OpenGroup& y) {
      return fill(x) != fill(y) ? fill(x) > fill(y) : x.first < y.first;
    });
    std::vector<OpenGroup> full;
    for (const OpenGroup& g : groups) {
      size_t i = full.size() > tried ? full.size() - tried : 0;
      while (i < full.size() && !joins(full[i], g, at)) ++i;
      if (i == full.size()) full.push_back(g);
    }
    return full;
  }
  bool joins(OpenGroup& into, const OpenGroup& g, NodeId at) {
    if (!has_room(into, g.members, g.dwellings)) return false;
    const GroupReach both = united(forest_, into.reach, g.reach, at);
    if (!has_place(forest_, places_, both)) return false;
    next_[into.last] = g.first;
    into = {into.first, g.last, into.members + g.members, into.dwellings + g.dwellings, both};
    return true;
  }

  // Members of the group that goes on, in the order of the walk, into what is to be closed.
  void top_up(std::vector<OpenGroup>& full, OpenGroup& goes_on) {
    const auto has_any_room = [&](const OpenGroup& g) { return has_room(g, 1, 1); };
    if (goes_on.members == 1 || std::none_of(full.begin(), full.end(), has_any_room)) return;
    std::vector<uint32_t> left = list(goes_on);
    for (OpenGroup& g : full) {
      if (!has_any_room(g)) continue;
      std::vector<uint32_t> kept;
      for (size_t i = 0; i < left.size(); ++i) {
        const bool others = !kept.empty() || i + 1 < left.size();
        if (!others || !takes(g, left[i])) kept.push_back(left[i]);
      }
      left = std::move(kept);
    }
    if (left.size() < static_cast<size_t>(goes_on.members)) goes_on = chained(left);
  }
  bool takes(OpenGroup& g, uint32_t m) {
    if (!has_room(g, 1, members_[m].dwellings)) return false;
    if (!has_place(forest_, places_, united(forest_, g.reach, members_[m]))) return false;
    add(g, m);
    return true;
  }

  void close(const OpenGroup& g, NodeId top) { closed_.push_back({list(g), g.dwellings, top, g.reach}); }

  const TrenchForest& forest_;
  const StationPlaces& places_;
  const std::vector<GroupMember>& members_;
  GroupLimits limits_;
  std::vector<uint32_t> next_;
  std::vector<StationGroup> closed_;
};

}  // namespace

StationGroup group_of(const TrenchForest& forest, const std::vector<GroupMember>& members,
                      std::vector<uint32_t> which) {
  PLAN_CHECK(!which.empty());
  std::sort(which.begin(), which.end(), [&](uint32_t x, uint32_t y) {
    const uint32_t px = forest.position[members[x].node], py = forest.position[members[y].node];
    return px != py ? px < py : x < y;
  });
  StationGroup g{{},
                 0,
                 forest.meet(members[which.front()].node, members[which.back()].node),
                 reach_of(members[which.front()])};
  for (size_t i = 0; i < which.size(); ++i) {
    g.dwellings += members[which[i]].dwellings;
    if (i > 0) g.reach = united(forest, g.reach, members[which[i]]);
  }
  g.members = std::move(which);
  return g;
}

std::vector<StationGroup> cut_into_groups(const TrenchForest& forest, const StationPlaces& places,
                                          const std::vector<GroupMember>& members, GroupLimits limits) {
  return Cutter(forest, places, members, limits).run();
}

}  // namespace plan
