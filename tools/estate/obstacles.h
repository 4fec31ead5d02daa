// What a drop must not run through: other buildings, other premises' plots, rail, water, motorways.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "estate/areas.h"
#include "estate/box_index.h"
#include "estate/map.h"

namespace withy {

enum class ObstacleKind : uint8_t { building, plot, rail, water, motorway };
struct Obstacle {
  ObstacleKind kind;
  MapId id;
};

// What the drop's own premises has; `none` where it has none.
struct Own {
  static constexpr uint32_t none = UINT32_MAX;
  uint32_t building = none, plot = none;  // places in the map
};

class Obstacles {
 public:
  // `buildings` are areas in the order of the map, `left_out` those that are no obstacle (duplicates);
  // both and the map must outlive this.
  Obstacles(const Map& map, const Areas& buildings, const std::vector<bool>& left_out, const Plane& plane);

  // The smallest plot around `p`.
  std::optional<uint32_t> plot_at(plan::Point p) const;
  // A plot with premises is not to be crossed by others.
  void set_premises(uint32_t plot) { with_premises_[plot] = true; }

  // The first thing in the way from a to b, by kind and order of the map. Buildings and plots count from
  // more than `spared` mm inside. Tunnels are no obstacle.
  std::optional<Obstacle> first(plan::Point a, plan::Point b, Own own, int64_t spared) const;
  // Where the drop from the street at `a` to the entry at `b` comes into its plot for good, mm from `a`.
  // Nothing where the plot reaches to `a` or there is none.
  std::optional<int64_t> boundary(plan::Point a, plan::Point b, uint32_t plot) const;

 private:
  bool through(const Areas& areas, uint32_t area, plan::Point a, plan::Point b, int64_t spared) const;
  std::optional<Obstacle> first_barrier(plan::Point a, plan::Point b) const;

  const Map& map_;
  const Areas& buildings_;
  Areas plots_;
  std::vector<bool> with_premises_;  // of each plot
  struct Barrier {
    plan::Point a, b;
    uint32_t barrier;
  };
  std::vector<Barrier> barriers_;  // leg by leg
  BoxIndex building_boxes_, plot_boxes_, barrier_boxes_;
};

}  // namespace withy
