#include "layout/group_reach.h"

#include <algorithm>

namespace plan {
namespace {

void lengthen(GroupReach& best, const GroupReach& by) {
  if (by.length > best.length) best = by;
}

GroupReach path(const TrenchForest& forest, const FarEnd& a, const FarEnd& b, NodeId meet) {
  return {a, b, meet,
          forest.depth[a.node] + forest.depth[b.node] - 2 * forest.depth[meet] - a.reach - b.reach};
}

const FarEnd& farther_up(const TrenchForest& forest, const GroupReach& x) {
  return forest.depth[x.a.node] - x.a.reach >= forest.depth[x.b.node] - x.b.reach ? x.a : x.b;
}

// A point of the path from a to b, and whether the place nearest to it is in reach of both ends.
class Middle {
 public:
  Middle(const TrenchForest& forest, const StationPlaces& places, const GroupReach& x)
      : forest_(forest), places_(places), x_(x), turn_(forest.depth[x.meet]) {
    to_meet_a_ = forest.depth[x.a.node] - turn_;
    path_ = to_meet_a_ + forest.depth[x.b.node] - turn_;
  }

  bool has_place() const {
    const int64_t middle = std::clamp((path_ + x_.a.reach - x_.b.reach) / 2, int64_t{0}, path_);
    return middle <= to_meet_a_ ? has_place_on(x_.a, x_.b, middle) : has_place_on(x_.b, x_.a, path_ - middle);
  }

 private:
  // `along` is measured from `side`, on its side of the turn, to the next millimetre.
  bool has_place_on(const FarEnd& side, const FarEnd& other, int64_t along) const {
    const NodeId below = forest_.climb(side.node, forest_.depth[side.node] - along);
    if (is_in_reach(below, side, other)) return true;
    if (is_in_reach(forest_.climb(side.node, forest_.depth[below] + 1), side, other)) return true;
    if (below != x_.meet) return is_in_reach(forest_.parent[below], side, other);
    if (other.node == x_.meet) return false;
    return is_in_reach(forest_.climb(other.node, turn_ + 1), other, side);
  }
  // `n` lies between `side` and the turn.
  bool is_in_reach(NodeId n, const FarEnd& side, const FarEnd& other) const {
    const int64_t near = places_.nearest(n);
    const int64_t to_side = forest_.depth[side.node] - forest_.depth[n];
    return near != INT64_MAX && near + to_side <= side.reach && near + path_ - to_side <= other.reach;
  }

  const TrenchForest& forest_;
  const StationPlaces& places_;
  const GroupReach& x_;
  int64_t turn_, to_meet_a_ = 0, path_ = 0;
};

}  // namespace

GroupReach reach_of(const GroupMember& member) {
  const FarEnd end{member.node, member.reach};
  return {end, end, member.node, INT64_MIN};
}

GroupReach united(const TrenchForest& forest, const GroupReach& x, const GroupReach& y, NodeId meet) {
  GroupReach best = path(forest, farther_up(forest, x), farther_up(forest, y), meet);
  lengthen(best, x);
  lengthen(best, y);
  return best;
}

GroupReach united(const TrenchForest& forest, const GroupReach& x, const GroupMember& member) {
  const FarEnd m{member.node, member.reach};
  GroupReach best = path(forest, x.a, m, forest.meet(x.a.node, m.node));
  lengthen(best, path(forest, x.b, m, forest.meet(x.b.node, m.node)));
  lengthen(best, x);
  return best;
}

int64_t overrun(const TrenchForest& forest, const GroupReach& x, NodeId above) {
  return overrun_at_headend(forest, x) - forest.depth[above];
}

int64_t overrun_at_headend(const TrenchForest& forest, const GroupReach& x) {
  const FarEnd& far = farther_up(forest, x);
  return forest.depth[far.node] - far.reach;
}

bool has_place(const TrenchForest& forest, const StationPlaces& places, const GroupReach& x) {
  return Middle(forest, places, x).has_place();
}

}  // namespace plan
