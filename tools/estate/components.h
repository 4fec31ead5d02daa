// What hangs together in a drafted estate: its routes by component, and each premises by the component
// its drop leaves.
//
//   Components c = components_of(draft);
//   c.all[c.of_premises[7]].length   // no_component where no street is near
//
// Routes meet where they share a vertex of the plane; routes of different level only where one of them
// ends. Forbidden routes and existing ducts join nothing. A premises belongs to the nearest route that a
// drop may leave midway (nearest to `drop_from` where it is given), at most `farthest_drop` away: the
// rule by which the planner hangs it. Same draft, same numbers; O((n + p) log n).
#pragma once
#include <cstdint>
#include <vector>

#include "base/run.h"
#include "estate/draft.h"

namespace withy {

constexpr uint32_t no_component = UINT32_MAX;
constexpr int64_t farthest_drop = 200'000;  // mm; the planner's own limit

struct DraftComponent {
  uint32_t first_route = 0;        // its first route in the draft
  int64_t routes = 0, length = 0;  // mm
  int64_t premises = 0, dwellings = 0;
  bool headend = false;
  // To the nearest component with a headend, straight, in mm; < 0 where there is none.
  int64_t gap = -1;
  plan::Point gap_at;  // an end of the leg where the gap is
};

struct Components {
  std::vector<DraftComponent> all;    // longest first, ties by first route
  std::vector<uint32_t> of_route;     // into `all`; no_component: forbidden or an existing duct
  std::vector<uint32_t> of_premises;  // into `all`; no_component: no street within farthest_drop
  std::vector<uint32_t> route_of;     // of each premises: the route its drop leaves; UINT32_MAX where none
  std::vector<int64_t> drop;          // of each premises: straight from its entry to the street, mm
};

Components components_of(const Draft& draft, const plan::Run& run = {});
// Fills `gap` of every component without a headend.
void measure_gaps(const Draft& draft, Components& components);
// A street that may be dug: neither forbidden nor an existing duct.
bool is_open(const DraftRoute& route);

}  // namespace withy
