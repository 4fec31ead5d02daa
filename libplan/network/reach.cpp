#include "network/reach.h"

#include <algorithm>
#include <optional>

#include "graph/segment_index.h"
#include "graph/street_graph.h"
#include "network/hang.h"

namespace plan {
namespace {

constexpr uint32_t no_component = UINT32_MAX;

Table<NodeId, uint32_t> allowed_components(const Network& n) {
  Table<SpanId, Ends> ends;
  Table<SpanId, uint8_t> allowed;
  ends.reserve(n.spans.size());
  allowed.reserve(n.spans.size());
  for (const Span& s : n.spans) {
    ends.add({s.from, s.to});
    allowed.add(s.forbidden ? 0 : 1);
  }
  return components(StreetGraph(n.at.size(), ends, allowed));
}

std::vector<uint8_t> with_headend(const Network& n) {
  std::vector<uint8_t> reached(n.components, 0);
  for (NodeId h : n.headend_nodes) reached[n.component[h]] = 1;
  return reached;
}

// Of each route that may be used; its spans hang together.
Table<RouteId, uint32_t> route_components(const Demand& demand, const Network& n) {
  Table<RouteId, uint32_t> of(demand.routes.size(), no_component);
  for (const Span& s : n.spans)
    if (!s.forbidden && s.kind != SpanKind::drop) of[s.route] = n.component[s.from];
  return of;
}

// Where a new route could begin: legs of the allowed streets, ends of the ducts. Of whole routes: the
// premises on them cut them into many more spans.
template <class Visit>
void each_open_leg(const Demand& demand, const Table<RouteId, uint32_t>& components, Visit&& visit) {
  for (RouteId r : demand.routes.ids()) {
    const uint32_t component = components[r];
    const auto& line = demand.routes[r].line;
    if (component == no_component) continue;
    if (demand.routes[r].existing_duct) {
      visit(component, Segment{line.front(), line.front()});
      visit(component, Segment{line.back(), line.back()});
    } else {
      for (size_t i = 1; i < line.size(); ++i) visit(component, Segment{line[i - 1], line[i]});
    }
  }
}

// The shortest straight way from each component asked about to a reached one.
std::vector<std::optional<Length>> gaps_of(const Demand& demand, const Network& n,
                                           const std::vector<uint8_t>& reached,
                                           const std::vector<uint8_t>& asked) {
  const Table<RouteId, uint32_t> components = route_components(demand, n);
  std::vector<Segment> legs;
  each_open_leg(demand, components, [&](uint32_t component, const Segment& leg) {
    if (reached[component]) legs.push_back(leg);
  });
  for (NodeId h : n.headend_nodes) legs.push_back({n.at[h], n.at[h]});
  const SegmentIndex index(legs);
  std::vector<std::optional<Length>> gaps(n.components);
  each_open_leg(demand, components, [&](uint32_t component, const Segment& leg) {
    if (!asked[component]) return;
    const auto gap = index.gap(leg);
    if (gap && (!gaps[component] || *gap < *gaps[component])) gaps[component] = gap;
  });
  return gaps;
}

}  // namespace

void find_reached(const Demand& demand, Network& n) {
  n.component = allowed_components(n);
  for (uint32_t c : n.component) n.components = std::max(n.components, c + 1);
  const std::vector<uint8_t> reached = with_headend(n);
  std::vector<uint8_t> asked(n.components, 0);
  n.reached.resize(demand.premises.size(), 0);
  const auto cut_off = [&](PremisesId p) {
    return n.drops[p].valid() && !n.reached[p] && demand.premises[p].connect != Connect::never;
  };
  bool any = false;
  for (PremisesId p : n.reached.ids()) {
    const uint32_t component = n.component[n.premises_nodes[p]];
    n.reached[p] = reached[component];
    if (!cut_off(p)) continue;
    asked[component] = 1;
    any = true;
  }
  if (!any) return;
  const std::vector<std::optional<Length>> gaps = gaps_of(demand, n, reached, asked);
  for (PremisesId p : n.reached.ids()) {
    if (!cut_off(p)) continue;
    const double gap = in_metres(gaps[n.component[n.premises_nodes[p]]].value_or(no_street));
    n.findings.push_back({.rule = Rule::premises_unreached,
                          .at = subject(p),
                          .actual = gap,
                          .mend = Mend::add_route,
                          .mend_amount = gap});
  }
}

}  // namespace plan
