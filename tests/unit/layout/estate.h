// A drawn estate with a plain basis: opening 100.00 a metre of street, 40.00 of drop, an existing duct
// nothing; one microduct 1.50 a metre, a feeder 3.00. All invented.
#pragma once
#include <set>

#include "drawn.h"
#include "layout/layout.h"
#include "network/network.h"

namespace plan {

struct Estate {
  Demand demand;
  Network network;
  Basis basis;
  LayoutRules rules;
  Asks asks;
  Layout plan() const { return make_layout(network, basis, rules, asks, {}); }
};

inline Basis plain_basis(const Demand& demand, const Network& network) {
  Basis b;
  for (PremisesId p : demand.premises.ids()) {
    PremisesNeed need;
    need.planned = demand.premises[p].connect != Connect::never && network.reached[p];
    need.dwellings = demand.premises[p].dwellings;
    b.needs.add(need);
  }
  for (const Span& s : network.spans) {
    const UnitPrice opening{s.kind == SpanKind::existing_duct ? 0
                            : s.kind == SpanKind::drop        ? 400'000
                                                              : 1'000'000};
    b.open_cost.add(opening.times_metres(s.length));
    b.lay_cost.add(UnitPrice{15'000}.times_metres(s.length));
    b.usable.add(!s.forbidden);
  }
  b.metre_by_ways = {{0}, {10'000}};
  b.unit_metre = {5'000};
  b.feeder_metre = {30'000};
  for (const Headend& h : demand.headends) b.headends.add({0, h.microduct_entries, 0});
  b.cabinet = {CabinetTypeId(0u), 81, 120};
  b.longest_drop = metres(600);
  b.longest_feeder = metres(4000);
  for (const Site& s : demand.sites) b.site_allowed.add(!s.forbidden);
  return b;
}

inline Estate estate_of(Demand demand) {
  Estate e;
  e.demand = std::move(demand);
  e.network = make_network(e.demand, {}, {});
  e.basis = plain_basis(e.demand, e.network);
  return e;
}

inline size_t count(const Layout& l, StationKind kind) {
  size_t n = 0;
  for (const Station& s : l.stations) n += s.kind == kind;
  return n;
}
inline size_t count(const Layout& l, Rule rule) {
  size_t n = 0;
  for (const Finding& f : l.findings) n += f.rule == rule;
  return n;
}
inline Point where(const Estate& e, const Layout& l, StationId s) {
  return e.network.at[l.stations[s].node];
}
inline StationId server(const Layout& l, PremisesId p) {
  return l.links[l.drops[p]].from;
}

}  // namespace plan
