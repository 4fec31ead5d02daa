// Where drops may leave the street: the routes with `drops`, together and by street name.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "estate/box_index.h"
#include "estate/draft.h"
#include "estate/names.h"
#include "graph/segment_index.h"

namespace withy {

// A point of a route, as seen from some place.
struct Leave {
  plan::Point at;
  uint32_t route = UINT32_MAX;  // its place in the table given
  int64_t length = 0;           // straight to that place, mm
};

class DropStreets {
 public:
  explicit DropStreets(std::span<const DraftRoute> routes);

  // The exact nearest, ties by order of the routes; nothing where there is no route. Faster with `known`,
  // some point of a route as seen from `p`.
  std::optional<Leave> nearest(plan::Point p, const std::optional<Leave>& known = {}) const;
  // Of the routes of one street name only.
  std::optional<Leave> nearest_of(uint32_t name, plan::Point p) const;
  // Nearest points of all routes not farther than `reach`, nearest first.
  void within(plan::Point p, int64_t reach, std::vector<Leave>& out) const;

  uint32_t name_of(uint32_t route) const { return route_names_[route]; }
  // The number of a street name as routes have it; StreetNames::none where blank, a new one where no
  // route has it.
  uint32_t name(std::string_view text) { return names_.number(text); }

 private:
  struct Street {
    std::vector<uint32_t> legs;
    plan::SegmentIndex index;
  };
  std::optional<uint32_t> nearest_leg(plan::Point p, int64_t reach) const;
  Leave leave(uint32_t leg, plan::Point p) const;

  StreetNames names_;
  std::vector<uint32_t> route_names_;
  std::vector<uint32_t> leg_routes_;
  std::vector<plan::Segment> legs_;  // in order of the routes
  std::vector<Street> streets_;      // by number of the name
  plan::SegmentIndex index_;
  BoxIndex boxes_;
};

}  // namespace withy
