#include <algorithm>

#include "report/names.h"
#include "report/rows.h"
#include "report/writers.h"

namespace plan {
namespace {

struct Count {
  int64_t given = 0, used = 0, reserved = 0, spare = 0, dead = 0;
};

struct Counts {
  Count dwellings, microducts, microduct_mm, fibres, splitter_ports, feeder_fibres, olt_ports;
};

void count_state(Count& c, SectionState state, int64_t n) {
  switch (state) {
    case SectionState::used:
      c.used += n;
      break;
    case SectionState::reserved:
      c.reserved += n;
      break;
    case SectionState::spare:
      c.spare += n;
      break;
    case SectionState::dead:
      c.dead += n;
      break;
  }
}

// A microduct of a run counts once: as used where any section of it is used, else reserved, spare, dead.
void count_microducts(const Plan& plan, Table<StationId, Counts>& at) {
  const Ducts& ducts = plan.ducts();
  Table<RunId, std::vector<uint8_t>> best(ducts.runs.size());
  for (const RunId r : ducts.runs.ids()) {
    const int ways = plan.scenario.duct_catalogue->bundles[ducts.runs[r].bundle].ways;
    best[r].assign(static_cast<size_t>(ways), UINT8_MAX);
    at[ducts.runs[r].station].microducts.given += ways;
    at[ducts.runs[r].station].microduct_mm.given += ways * to_whole_millimetres(ducts.runs[r].length);
  }
  for (const Section& s : ducts.sections) {
    uint8_t& state = best[s.run][static_cast<size_t>(s.position - 1)];
    state = std::min(state, static_cast<uint8_t>(s.state));
    count_state(at[ducts.runs[s.run].station].microduct_mm, s.state, to_whole_millimetres(s.length));
  }
  for (const RunId r : ducts.runs.ids())
    for (const uint8_t state : best[r])
      if (state != UINT8_MAX)
        count_state(at[ducts.runs[r].station].microducts, static_cast<SectionState>(state), 1);
}

void count_light(const Plan& plan, Table<StationId, Counts>& at) {
  const Fibre& fibre = plan.fibre();
  const Layout& layout = plan.layout();
  const auto add = [](Count& c, LightState state) {
    (state == LightState::lit ? c.used : state == LightState::reserved ? c.reserved : c.spare)++;
  };
  for (const PremisesId p : plan.basis->needs.ids())
    if (layout.drops[p].valid())
      at[layout.links[layout.drops[p]].from].dwellings.given += plan.basis->needs[p].dwellings;
  for (const Dwelling& d : fibre.dwellings) {
    if (d.link.valid()) add(at[layout.links[d.link].from].dwellings, d.state);
    if (d.splitter.valid()) add(at[fibre.splitters[d.splitter].station].splitter_ports, d.state);
  }
  for (const Splitter& s : fibre.splitters) {
    if (s.type.valid())
      at[s.station].splitter_ports.given += plan.scenario.fibre_catalogue->splitters[s.type].ports;
    if (s.upstream.valid()) {
      Count& c = at[fibre.splitters[s.upstream].station].splitter_ports;
      ++(s.day_one ? c.used : c.reserved);
    }
  }
  for (const StationId s : layout.stations.ids()) {
    Count& c = at[s].splitter_ports;
    c.spare = c.given - c.used - c.reserved;
  }
}

// Spare is what the cable holds beyond fibres_used; more used than there are shows as a difference.
void count_fibres(const Plan& plan, Table<StationId, Counts>& at) {
  const Layout& layout = plan.layout();
  for (const LinkId l : layout.links.ids()) {
    const LinkCable& cable = plan.fibre().cables[l];
    if (!cable.cable.valid()) continue;
    const int there = plan.scenario.fibre_catalogue->cables[cable.cable].fibres;
    const auto add = [&](Count& c, bool reserved, int used) {
      c.given += there;
      (reserved ? c.reserved : c.used) += used;
      c.spare += std::max(0, there - used);
    };
    const Link& link = layout.links[l];
    const bool reserved = link.premises.valid() && plan.basis->needs[link.premises].reserved;
    add(at[link.from].fibres, reserved, cable.fibres_used);
    if (link.to.valid()) add(at[link.to].feeder_fibres, false, plan.fibre().stations[link.to].feed_fibres);
  }
}

void count_olt_ports(const Plan& plan, Table<StationId, Counts>& at) {
  for (const StationId s : plan.layout().stations.ids()) {
    const Station& station = plan.layout().stations[s];
    if (station.kind != StationKind::headend) continue;
    Count& c = at[s].olt_ports;
    for (const Pon& p : plan.fibre().pons) {
      if (p.headend != station.headend) continue;
      c.given = std::max<int64_t>(c.given, p.port);
      ++(p.day_one > 0 ? c.used : c.reserved);
    }
  }
}

}  // namespace

void write_reconciliation(const Plan& plan, const Sink& sink) {
  Table<StationId, Counts> at(plan.layout().stations.size());
  count_microducts(plan, at);
  count_light(plan, at);
  count_fibres(plan, at);
  count_olt_ports(plan, at);
  Rows rows(table_schema("reconciliation.csv"), sink);
  const StationNames names(plan);
  for (const StationId s : at.ids()) {
    const auto row = [&](std::string_view what, const Count& c) {
      if (c.given == 0 && c.used == 0 && c.reserved == 0) return;
      rows.integer(s.value).text(names[s]).text(what).integer(c.given).integer(c.used).integer(c.reserved);
      rows.integer(c.spare).integer(c.dead).integer(c.given - c.used - c.reserved - c.spare - c.dead).end();
    };
    row("dwellings", at[s].dwellings);
    row("microducts", at[s].microducts);
    row("microduct millimetres", at[s].microduct_mm);
    row("fibres", at[s].fibres);
    row("splitter ports", at[s].splitter_ports);
    row("feeder fibres", at[s].feeder_fibres);
    row("OLT ports", at[s].olt_ports);
  }
}

}  // namespace plan
