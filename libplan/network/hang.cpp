#include "network/hang.h"

#include "base/parallel.h"

namespace plan {
namespace {

struct Legs {
  std::vector<Segment> segments;
  std::vector<std::pair<RouteId, uint32_t>> names;
};

Legs open_legs(const Demand& demand, const Table<RouteId, uint8_t>& closed) {
  Legs legs;
  for (RouteId r : demand.routes.ids()) {
    const Route& route = demand.routes[r];
    if (route.existing_duct || closed[r] || !route.drops) continue;
    for (uint32_t i = 0; i + 1 < route.line.size(); ++i) {
      if (route.line[i] == route.line[i + 1]) continue;
      legs.segments.push_back({route.line[i], route.line[i + 1]});
      legs.names.emplace_back(r, i);
    }
  }
  return legs;
}

class Hanger {
 public:
  explicit Hanger(Legs legs) : legs_(std::move(legs)), index_(legs_.segments) {}

  Hang operator()(Point p, Length farthest) const { return (*this)(p, p, farthest); }
  // What stands at `p`, on the street nearest to `beside`.
  Hang operator()(Point p, Point beside, Length farthest) const {
    const auto hit = index_.nearest(beside);
    if (!hit) return {false, {}, 0, {}, no_street};
    const Point entry = nearest_point(legs_.segments[hit->segment], beside);
    const Length far = distance(entry, p);
    const auto [route, leg] = legs_.names[hit->segment];
    return {far <= farthest, route, leg, entry, far};
  }
  template <class I, class T>
  Table<I, Hang> all(const Table<I, T>& things, const Run& run) const {
    Table<I, Hang> hangs(things.size());
    for_each_chunk(run, things.size(), 1024, [&](size_t first, size_t last) {
      for (size_t i = first; i < last; ++i) hangs[I(i)] = hang(things[I(i)]);
    });
    return hangs;
  }

 private:
  Hang hang(const Premises& p) const {
    return (*this)(p.at, p.drop_stated ? p.drop_from : p.at, farthest_hang);
  }
  Hang hang(const Headend& h) const { return (*this)(h.at, farthest_hang); }
  Hang hang(const Site& s) const { return (*this)(s.at, farthest_hang); }

  Legs legs_;
  SegmentIndex index_;
};

template <class I>
void tell_far(const Table<I, Hang>& hangs, Rule rule, Mend mend, Findings& findings, auto&& counts) {
  for (I i : hangs.ids())
    if (!hangs[i].found && counts(i))
      findings.push_back({.rule = rule,
                          .at = subject(i),
                          .actual = in_metres(hangs[i].distance),
                          .limit = in_metres(farthest_hang),
                          .mend = mend});
}

}  // namespace

Hangs hang_estate(const Demand& demand, const Table<RouteId, uint8_t>& closed, const Run& run) {
  const Hanger hang(open_legs(demand, closed));
  Hangs h;
  h.premises = hang.all(demand.premises, run);
  h.headends = hang.all(demand.headends, run);
  h.sites = hang.all(demand.sites, run);
  for (RouteId r : demand.routes.ids()) {
    const Route& route = demand.routes[r];
    if (!route.existing_duct || route.line.empty()) continue;
    h.ducts.push_back(r);
    h.duct_ends.push_back(
        {hang(route.line.front(), farthest_chamber), hang(route.line.back(), farthest_chamber)});
  }
  tell_far(h.premises, Rule::premises_far_from_street, Mend::move_premises, h.findings,
           [&](PremisesId p) { return demand.premises[p].connect != Connect::never; });
  tell_far(h.headends, Rule::headend_far_from_street, Mend::add_route, h.findings,
           [](HeadendId) { return true; });
  tell_far(h.sites, Rule::site_far_from_street, Mend::add_route, h.findings,
           [&](SiteId s) { return !demand.sites[s].forbidden; });
  return h;
}

}  // namespace plan
