#include "network/hang.h"

#include <optional>

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

// What stands at `at` hangs on the street nearest to `beside`.
struct Asked {
  Point at, beside;
};

class Hanger {
 public:
  explicit Hanger(Legs legs) : legs_(std::move(legs)), index_(legs_.segments) {}

  Hang operator()(Point p, Length farthest) const {
    std::optional<NearestSegment> hit;
    return (*this)({p, p}, farthest, hit);
  }
  // `hit` is the last answer, then this one: neighbours follow each other.
  Hang operator()(Asked asked, Length farthest, std::optional<NearestSegment>& hit) const {
    const auto [p, beside] = asked;
    hit = index_.nearest(beside, hit);
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
      std::optional<NearestSegment> hit;
      for (size_t i = first; i < last; ++i) hangs[I(i)] = (*this)(asked(things[I(i)]), farthest_hang, hit);
    });
    return hangs;
  }

 private:
  static Asked asked(const Premises& p) { return {p.at, p.drop_stated ? p.drop_from : p.at}; }
  static Asked asked(const Headend& h) { return {h.at, h.at}; }
  static Asked asked(const Site& s) { return {s.at, s.at}; }

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
