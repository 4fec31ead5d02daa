#include "report/names.h"
#include "report/rows.h"
#include "report/writers.h"

namespace plan {
namespace {

double metres_of(int64_t mm) {
  return static_cast<double>(mm) / 1000.0;
}

std::string_view state_of(const Plan& plan, PremisesId p) {
  const PremisesNeed& need = plan.basis->needs[p];
  if (!need.planned)
    return plan.scenario.demand->premises[p].connect == Connect::never ? "not planned" : "unserved";
  if (!plan.layout().drops[p].valid()) return "unserved";
  return need.reserved ? "reserved" : "lit";
}

void write_drop(const Plan& plan, PremisesId p, Rows& rows) {
  const LinkId link = plan.layout().drops[p];
  if (!link.valid()) {
    for (int i = 0; i < 8; ++i) rows.empty();
    return;
  }
  const LinkCable& cable = plan.fibre().cables[link];
  const Blow& blow = plan.blowing().blows[link];
  rows.id(plan.layout().links[link].from).id(link).ids(plan.ducts().paths[link]).length(cable.duct_length);
  rows.text(cable.cable.valid() ? plan.scenario.fibre_catalogue->cables[cable.cable].name : "");
  rows.integer(cable.fibres_used).length(cable.length).text(blow.feasible ? "passes" : "refused");
}

}  // namespace

void write_premises(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("premises.csv"), sink);
  const Demand& demand = *plan.scenario.demand;
  for (const PremisesId p : demand.premises.ids()) {
    const Premises& premises = demand.premises[p];
    rows.text(premises.name)
        .text(premises.street)
        .number(metres_of(premises.at.x))
        .number(metres_of(premises.at.y));
    rows.text(word(premises.connect))
        .text(word(premises.laid))
        .integer(premises.dwellings)
        .text(state_of(plan, p));
    write_drop(plan, p, rows);
    rows.text(word(premises.entry_known)).text(premises.consent);
    rows.length(premises.boundary)
        .flag(premises.building_point)
        .length(premises.indoor)
        .length(premises.riser);
    rows.end();
  }
}

void write_dwellings(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("dwellings.csv"), sink);
  const Scenario& s = plan.scenario;
  for (const DwellingId d : plan.fibre().dwellings.ids()) {
    const Dwelling& dwelling = plan.fibre().dwellings[d];
    const Ledger& ledger = plan.optics().ledgers[d];
    rows.integer(d.value).text(s.demand->premises[dwelling.premises].name).integer(dwelling.number);
    rows.text(word(dwelling.state)).id(dwelling.link);
    const CableId unit = dwelling.link.valid() ? plan.fibre().cables[dwelling.link].cable : CableId();
    const bool known = unit.valid() && dwelling.fibre > 0;
    dwelling.fibre > 0 ? rows.integer(dwelling.fibre) : rows.empty();
    rows.text(known ? colour_of(s.fibre_catalogue->colour_codes, s.fibre_catalogue->cables[unit].colour_code,
                                dwelling.fibre)
                    : std::string());
    rows.id(dwelling.splitter);
    dwelling.port > 0 ? rows.integer(dwelling.port) : rows.empty();
    rows.id(dwelling.pon).length(ledger.glass);
    for (const Loss loss :
         {ledger.down_max, ledger.down_min, ledger.up_max, ledger.up_min, ledger.down_margin,
          ledger.up_margin, ledger.overload_margin, plan.acceptance->light[d].limit_down})
      rows.number(in_decibels(loss));
    rows.end();
  }
}

namespace {

void write_limits(const Plan& plan, const Station& station, Rows& rows) {
  const CabinetTypeId type = plan.basis->cabinet.type;
  if (station.kind == StationKind::headend) {
    const HeadendLimits& limits = plan.basis->headends[station.headend];
    limits.microduct_entries > 0 ? rows.integer(limits.microduct_entries) : rows.empty();
  } else if (station.kind == StationKind::cabinet && type.valid()) {
    const CabinetType& c = plan.scenario.duct_catalogue->cabinets[type];
    rows.integer(c.microduct_entries).integer(c.drop_fibres).integer(c.splitter_slots).integer(c.trays);
    return;
  } else {
    rows.empty();
  }
  rows.empty().empty().empty();
}

}  // namespace

void write_stations(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("stations.csv"), sink);
  const StationNames names(plan);
  for (const StationId s : plan.layout().stations.ids()) {
    const Station& station = plan.layout().stations[s];
    const StationFibre& fibre = plan.fibre().stations[s];
    const Point at = plan.network->at[station.node];
    rows.integer(s.value)
        .text(names[s])
        .text(word(station.kind))
        .id(station.node)
        .number(metres_of(at.x))
        .number(metres_of(at.y));
    rows.id(station.upstream).text(plan.scenario.demand->headends[station.headend].name);
    const bool cabinet = station.kind == StationKind::cabinet && plan.basis->cabinet.type.valid();
    rows.text(cabinet ? plan.scenario.duct_catalogue->cabinets[plan.basis->cabinet.type].name : "");
    rows.integer(station.premises_served).integer(station.dwellings_served);
    rows.integer(fibre.splitters_day_one).integer(fibre.splitters_ultimate).integer(fibre.feed_fibres);
    rows.integer(fibre.splices).integer(fibre.trays);
    write_limits(plan, station, rows);
    rows.end();
  }
}

bool climbs(const Plan& plan, SpanId s) {
  const Network& n = *plan.network;
  return !n.heights.empty() && n.heights[n.spans[s].from] != height_unknown &&
         n.heights[n.spans[s].to] != height_unknown;
}

void write_spans(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("spans.csv"), sink);
  const Demand& demand = *plan.scenario.demand;
  const auto rule = [](const std::string& text) {
    return text.empty() ? std::string("to local code") : text;
  };
  for (const SpanId s : plan.network->spans.ids()) {
    if (!plan.layout().used[s]) continue;
    const Span& span = plan.network->spans[s];
    const bool named = span.route.valid();
    const Route none;
    const Route& route = named ? demand.routes[span.route] : none;
    rows.integer(s.value).id(span.from).id(span.to).text(word(span.kind)).text(route.name);
    rows.text(span.surface.valid() ? demand.surfaces[span.surface] : "")
        .text(route.method)
        .length(span.length);
    rows.flag(plan.takeoff->opened[s] > Length()).flag(true).money(plan.basis->open_cost[s]);
    rows.ids(plan.ducts().runs_in_span[s]).text(word(route.surface_known));
    rows.text(rule(route.cover_rule)).text(rule(route.separation_rule)).text(route.permit);
    const bool own = span.kind == SpanKind::street;
    rows.text(own && route.crossing.valid() ? demand.crossings[route.crossing] : "");
    rows.text(own ? route.restricted : "");
    climbs(plan, s) ? rows.length(rise(*plan.network, s)) : rows.empty();
    const bool duct = span.kind == SpanKind::existing_duct;
    rows.text(duct ? route.owner : "").text(duct ? route.content : "").text(duct ? route.hire_price : "");
    rows.end();
  }
}

}  // namespace plan
