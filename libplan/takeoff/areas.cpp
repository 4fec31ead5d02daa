#include "takeoff/areas.h"

#include <algorithm>

namespace plan {
namespace {

bool heads_area(StationKind k) {
  return k == StationKind::headend || k == StationKind::cabinet;
}

Table<StationId, StationId> station_areas(const Layout& layout) {
  Table<StationId, StationId> area(layout.stations.size());
  for (const StationId s : layout.stations.ids()) {
    const Station& station = layout.stations[s];
    const bool head = heads_area(station.kind) || !station.upstream.valid();
    area[s] = head ? s : area[station.upstream];
  }
  return area;
}

// A link that feeds a cabinet is in the cabinet's area, every other in that of its station.
Table<LinkId, StationId> link_areas(const Layout& layout, const Table<StationId, StationId>& area) {
  Table<LinkId, StationId> out(layout.links.size());
  for (const LinkId l : layout.links.ids()) {
    const Link& link = layout.links[l];
    out[l] = area[link.to.valid() ? link.to : link.from];
  }
  return out;
}

void lower(StationId& to, StationId by) {
  if (by.valid() && by < to) to = by;  // an invalid id is the largest
}

Table<RunId, StationId> run_areas(const Ducts& ducts, const Takeoff& out) {
  Table<RunId, StationId> area(ducts.runs.size());
  for (const Section& s : ducts.sections)
    if (s.link.valid()) lower(area[s.run], out.link_area[s.link]);
  for (const RunId r : ducts.runs.ids())
    if (!area[r].valid()) area[r] = out.area[ducts.runs[r].station];
  return area;
}

Table<SpanId, PremisesId> drop_owners(const Network& network) {
  Table<SpanId, PremisesId> owner(network.spans.size());
  for (const PremisesId p : network.drops.ids())
    if (network.drops[p].valid()) owner[network.drops[p]] = p;
  return owner;
}

}  // namespace

Length opened_length(const TakeoffInput& input, SpanId span, PremisesId premises) {
  const Span& s = input.network.spans[span];
  if (s.kind == SpanKind::existing_duct) return {};
  if (!premises.valid()) return s.length;
  if (!input.basis.needs[premises].reserved) return s.length;  // what is built reaches the door
  const Premises& p = input.demand.premises[premises];
  switch (p.laid) {
    case DropLaid::to_door:
      return s.length;
    case DropLaid::to_boundary:
      return p.boundary == Length() ? s.length : std::min(rounded_to_millimetres(p.boundary), s.length);
    case DropLaid::none:
      return {};
  }
  return s.length;
}

void find_areas(const TakeoffInput& input, Takeoff& out) {
  const size_t spans = input.network.spans.size();
  out.area = station_areas(input.layout);
  out.link_area = link_areas(input.layout, out.area);
  out.run_area = run_areas(input.ducts, out);
  out.span_area.resize(spans);
  out.opened.resize(spans);
  const Table<SpanId, PremisesId> owner = drop_owners(input.network);
  for (const SpanId s : input.ducts.runs_in_span.ids()) {
    for (const RunId r : input.ducts.runs_in_span[s]) lower(out.span_area[s], out.run_area[r]);
    if (out.span_area[s].valid()) out.opened[s] = opened_length(input, s, owner[s]);
  }
}

}  // namespace plan
