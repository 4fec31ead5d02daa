// The walk-out list: what has to be looked at on site before a plan is built, street by street.
#include <fmt/core.h>

#include <map>

#include "report/rows.h"
#include "report/walk_out.h"
#include "report/writers.h"

namespace plan {
namespace {

class Walk {
 public:
  explicit Walk(const Plan& plan) : plan_(plan), demand_(*plan.scenario.demand) {
    for (const SpanId s : plan.network->spans.ids()) add_span(s);
    for (const RouteId r : demand_.routes.ids()) add_route(demand_.routes[r]);
    for (const PremisesId p : demand_.premises.ids()) add_premises(p);
  }
  std::map<std::string_view, WalkOut> streets;

 private:
  WalkOut& of(const Route& route) { return streets[route.street.empty() ? route.name : route.street]; }

  void add_span(SpanId s) {
    const Length opened = plan_.takeoff->opened[s];
    const Span& span = plan_.network->spans[s];
    if (opened == Length() || !span.route.valid()) return;
    const Route& route = demand_.routes[span.route];
    WalkOut& street = of(route);
    street.opened += opened;
    const bool own = span.kind == SpanKind::street;
    if (own && route.surface_known == Confidence::assumed) street.assumed += opened;
    if (own && !route.restricted.empty()) street.restricted += opened;
    if (own && route.crossing.valid() && last_crossing_ != span.route) {
      ++street.crossings;
      last_crossing_ = span.route;
    }
  }

  void add_route(const Route& route) {
    if (!route.existing_duct || route.state == DuctState::proven) return;
    ++(route.state == DuctState::blocked ? of(route).blocked_ducts : of(route).unproven_ducts);
  }

  void add_premises(PremisesId p) {
    const SpanId drop = plan_.network->drops[p];
    const Premises& one = demand_.premises[p];
    if (!drop.valid() || one.connect == Connect::never) return;
    WalkOut& street = of(demand_.routes[plan_.network->spans[drop].route]);
    ++street.premises;
    if (one.entry_known == Confidence::assumed) {
      ++street.entries_assumed;
      street.assumed += plan_.takeoff->opened[drop];
    }
    street.dwellings_assumed += one.dwellings_known == Confidence::assumed ? 1 : 0;
    street.boundaries_assumed +=
        one.boundary == Length() || one.boundary_known == Confidence::assumed ? 1 : 0;
    street.consents += one.consent.empty() ? 0 : 1;
  }

  const Plan& plan_;
  const Demand& demand_;
  RouteId last_crossing_;
};

}  // namespace

std::map<std::string_view, WalkOut> walk_out(const Plan& plan) {
  return std::move(Walk(plan).streets);
}

void write_walk_out(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("walk-out.csv"), sink);
  for (const auto& [name, w] : walk_out(plan)) {
    rows.text(name).length(w.opened).length(w.assumed).length(w.restricted).integer(w.crossings);
    rows.integer(w.unproven_ducts).integer(w.blocked_ducts).integer(w.premises).integer(w.entries_assumed);
    rows.integer(w.dwellings_assumed).integer(w.boundaries_assumed).integer(w.consents);
    rows.end();
  }
}

}  // namespace plan
