#include "layout/trading.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

constexpr int rounds = 4;         // later ones win less than a hundredth
constexpr size_t neighbours = 3;  // stations a member looks at
constexpr uint32_t none = UINT32_MAX;

// A member that is nearer to another group's station than to its own.
struct Wish {
  int64_t gain = 0;
  uint32_t member = 0, from = 0, to = 0;
  friend bool operator<(const Wish& x, const Wish& y) {
    return std::tuple(-x.gain, x.member, x.to) < std::tuple(-y.gain, y.member, y.to);
  }
};

class Trade {
 public:
  Trade(const TradingGround& ground, std::vector<StationGroup> groups, StationPlacer& placer)
      : ground_(ground),
        groups_(std::move(groups)),
        placer_(placer),
        group_of_(ground.members.size(), none),
        own_(ground.members.size()) {
    for (uint32_t g = 0; g < groups_.size(); ++g)
      for (uint32_t m : groups_[g].members) group_of_[m] = g;
  }

  std::vector<StationGroup> run() {
    for (int round = 0; round < rounds; ++round) {
      stations_.clear();
      for (const StationGroup& g : groups_) stations_.push_back(station_of(g));
      for (uint32_t m = 0; m < own_.size(); ++m)
        if (group_of_[m] != none) own_[m] = length(m, group_of_[m]);
      bool any = false;
      for (const Wish& w : wishes()) any |= group_of_[w.member] == w.from && (moves(w) || swaps(w));
      if (!any) break;
      regroup();
    }
    std::erase_if(groups_, [](const StationGroup& g) { return g.members.empty(); });
    return std::move(groups_);
  }

 private:
  NodeId station_of(const StationGroup& g) {
    return g.members.empty() ? NodeId() : placer_.best(g, ground_.members, ground_.places, ground_.weights);
  }
  int64_t length(uint32_t member, uint32_t group) const {
    return ground_.forest.length(ground_.members[member].node, stations_[group]);
  }

  std::vector<Wish> wishes() const {
    Table<NodeId, uint8_t> at_station(ground_.forest.parent.size());
    Table<NodeId, uint32_t> group_at(ground_.forest.parent.size(), none);
    for (uint32_t g = 0; g < groups_.size(); ++g) {
      if (!stations_[g].valid() || group_at[stations_[g]] != none) continue;
      at_station[stations_[g]] = 1;
      group_at[stations_[g]] = g;
    }
    const StationPlaces near_stations(ground_.forest, std::move(at_station), neighbours);
    std::vector<Wish> all;
    for (uint32_t m = 0; m < group_of_.size(); ++m) {
      if (group_of_[m] == none) continue;
      const int64_t now = own_[m];
      for (const StationPlaces::Near& near : near_stations.near(ground_.members[m].node)) {
        if (!near.node.valid() || near.distance >= now || near.distance > ground_.members[m].reach) break;
        all.push_back({now - near.distance, m, group_of_[m], group_at[near.node]});
      }
    }
    std::sort(all.begin(), all.end());
    return all;
  }

  bool has_room(const StationGroup& g, int members, int dwellings) const {
    return static_cast<int>(g.members.size()) + members <= ground_.limits.members &&
           int64_t{g.dwellings} + dwellings <= ground_.limits.dwellings;
  }
  int dwellings(uint32_t m) const { return ground_.members[m].dwellings; }
  void shift(uint32_t m, uint32_t to) {
    StationGroup& from = groups_[group_of_[m]];
    from.members.erase(std::find(from.members.begin(), from.members.end(), m));
    from.dwellings -= dwellings(m);
    groups_[to].members.push_back(m);
    groups_[to].dwellings += dwellings(m);
    group_of_[m] = to;
    own_[m] = length(m, to);
  }

  bool moves(const Wish& w) {
    if (!has_room(groups_[w.to], 1, dwellings(w.member))) return false;
    shift(w.member, w.to);
    return true;
  }
  // The member of the other group that loses least by coming back the other way.
  bool swaps(const Wish& w) {
    uint32_t best = none;
    int64_t least = w.gain;
    for (uint32_t m : groups_[w.to].members) {
      const int more = dwellings(w.member) - dwellings(m);
      if (!has_room(groups_[w.to], 0, more) || !has_room(groups_[w.from], 0, -more)) continue;
      const int64_t back = length(m, w.from), loss = back - own_[m];
      if (back > ground_.members[m].reach || loss >= least) continue;
      best = m;
      least = loss;
    }
    if (best == none) return false;
    shift(w.member, w.to);
    shift(best, w.from);
    return true;
  }

  void regroup() {
    for (StationGroup& g : groups_)
      if (!g.members.empty()) g = group_of(ground_.forest, ground_.members, std::move(g.members));
  }

  const TradingGround& ground_;
  std::vector<StationGroup> groups_;
  StationPlacer& placer_;
  std::vector<uint32_t> group_of_;  // by member; none where it is not on the market
  std::vector<NodeId> stations_;    // by group
  std::vector<int64_t> own_;        // by member: length to its station
};

}  // namespace

std::vector<StationGroup> traded(const TradingGround& ground, std::vector<StationGroup> groups,
                                 StationPlacer& placer) {
  return Trade(ground, std::move(groups), placer).run();
}

}  // namespace plan
