#include "fibre/counts.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

bool patched(const FibreInput& input, const Station& station) {
  if (station.kind == StationKind::headend) return true;
  return station.kind == StationKind::cabinet && input.rules.patched_cabinet;
}

// Splices and mated connectors of one station, at build and ultimate.
struct Count {
  int splices = 0, all_splices = 0, connectors = 0;
  void add(int n_splices, int n_connectors, bool at_build) {
    all_splices += n_splices;
    if (!at_build) return;
    splices += n_splices;
    connectors += n_connectors;
  }
};

class Counter {
 public:
  Counter(const FibreInput& input, Fibre& fibre)
      : input_(input), fibre_(fibre), counts_(input.layout.stations.size()) {}

  void run() {
    for (SplitterId s : fibre_.splitters.ids()) count_splitter(s);
    for (const Dwelling& d : fibre_.dwellings)
      if (d.splitter.valid()) count_output(d.splitter, d.state == LightState::lit);
    for (StationId s : fibre_.throughs.ids()) {
      const int connectors = patched(input_, input_.layout.stations[s]) ? 2 : 0;
      for (const Through& t : fibre_.throughs[s]) counts_[s].add(1, connectors, blown_at_build(t.link));
    }
    const int per_tray = std::max(1, input_.rules.splices_per_tray);
    for (StationId s : counts_.ids()) {
      fibre_.stations[s].splices = counts_[s].splices;
      fibre_.stations[s].connectors = counts_[s].connectors;
      fibre_.stations[s].trays = (counts_[s].all_splices + per_tray - 1) / per_tray;
    }
  }

 private:
  // Its input; an output that feeds another station is counted from there.
  void count_splitter(SplitterId id) {
    const Splitter& s = fibre_.splitters[id];
    StationFibre& station = fibre_.stations[s.station];
    station.splitters_ultimate += 1;
    station.splitters_day_one += s.day_one ? 1 : 0;
    const bool inside = s.upstream.valid() && fibre_.splitters[s.upstream].station == s.station;
    const bool on_cable = !inside && input_.layout.stations[s.station].kind != StationKind::headend;
    const bool plugged = inside ? has_connectors(id) || has_connectors(s.upstream) : mated(id);
    const bool spliced = on_cable || (inside && !plugged);
    counts_[s.station].add(spliced ? 1 : 0, plugged ? 1 : 0, s.day_one);
    if (s.upstream.valid() && !inside) count_output(s.upstream, s.day_one);
  }

  void count_output(SplitterId id, bool used_at_build) {
    const Splitter& s = fibre_.splitters[id];
    counts_[s.station].add(1, mated(id) ? 1 : 0, s.day_one && used_at_build);
  }

  // The unit to premises on order is blown when they order.
  bool blown_at_build(LinkId l) const {
    const PremisesId p = input_.layout.links[l].premises;
    return !p.valid() || !input_.basis.needs[p].reserved;
  }

  bool mated(SplitterId id) const {
    return patched(input_, input_.layout.stations[fibre_.splitters[id].station]) || has_connectors(id);
  }

  bool has_connectors(SplitterId id) const {
    const SplitterTypeId type = fibre_.splitters[id].type;
    return type.valid() && input_.catalogue.splitters[type].connectorised;
  }

  const FibreInput& input_;
  Fibre& fibre_;
  Table<StationId, Count> counts_;
};

// One splice at the building point where there is one without a splitter, one at the outlet.
void count_premises(const FibreInput& input, Fibre& fibre) {
  fibre.premises_splices.resize(input.basis.needs.size());
  for (const Dwelling& d : fibre.dwellings) {
    if (d.state != LightState::lit) continue;
    const bool in_station = input.layout.links[d.link].to.valid();
    const bool point = !in_station && input.demand.premises[d.premises].building_point;
    fibre.premises_splices[d.premises] += point ? 2 : 1;
  }
}

void exceeds(Fibre& fibre, Rule rule, Subject at, std::pair<int, int> actual_and_limit) {
  const auto [actual, limit] = actual_and_limit;
  if (actual <= limit) return;
  const Mend mend = at.kind == SubjectKind::headend ? Mend::larger_headend : Mend::larger_cabinet;
  fibre.findings.push_back({.rule = rule,
                            .at = at,
                            .actual = static_cast<double>(actual),
                            .limit = static_cast<double>(limit),
                            .mend = mend});
}

void check_headends(const FibreInput& input, Fibre& fibre) {
  Table<HeadendId, int> ports(input.demand.headends.size()), fibres(input.demand.headends.size());
  for (const Pon& p : fibre.pons) ports[p.headend] = std::max(ports[p.headend], p.port);
  for (LinkId l : input.layout.links.ids()) {
    const StationId from = input.layout.links[l].from;
    if (!from.valid() || input.layout.stations[from].kind != StationKind::headend) continue;
    fibres[input.layout.stations[from].headend] += fibre.cables[l].fibres_used;
  }
  for (HeadendId h : input.demand.headends.ids()) {
    const Headend& headend = input.demand.headends[h];
    if (headend.olt_ports > 0)
      exceeds(fibre, Rule::olt_ports_exceeded, subject(h), {ports[h], headend.olt_ports});
    if (headend.feeder_fibres > 0)
      exceeds(fibre, Rule::feeder_fibres_exceeded, subject(h), {fibres[h], headend.feeder_fibres});
  }
}

}  // namespace

SplitterTypeId splitter_type(const FibreCatalogue& catalogue, int ratio, bool want_connectors) {
  SplitterTypeId best;
  const auto rank = [&](SplitterTypeId id) {
    const SplitterType& t = catalogue.splitters[id];
    return std::tuple(t.connectorised != want_connectors, t.inputs, in_decibels(t.max_loss));
  };
  for (SplitterTypeId id : catalogue.splitters.ids()) {
    if (catalogue.splitters[id].ports != ratio) continue;
    if (!best.valid() || rank(id) < rank(best)) best = id;
  }
  return best;
}

void choose_splitters(const FibreInput& input, Fibre& fibre) {
  const size_t stages = input.layout_rules.split.size();
  std::vector<SplitterTypeId> types(stages * 2);
  std::vector<uint8_t> told(stages, 0);
  for (size_t k = 0; k < stages * 2; ++k)
    types[k] = splitter_type(input.catalogue, input.layout_rules.split[k / 2].ratio, k % 2 == 1);
  for (Splitter& s : fibre.splitters) {
    const size_t stage = static_cast<size_t>(s.stage);
    s.type = types[stage * 2 + (patched(input, input.layout.stations[s.station]) ? 1 : 0)];
    if (s.type.valid() || told[stage] != 0) continue;
    told[stage] = 1;
    fibre.findings.push_back({.rule = Rule::splitter_missing,
                              .at = subject(s.station),
                              .actual = static_cast<double>(input.layout_rules.split[stage].ratio)});
  }
}

void count_stations(const FibreInput& input, Fibre& fibre) {
  Counter(input, fibre).run();
  count_premises(input, fibre);
}

void check_limits(const FibreInput& input, Fibre& fibre) {
  if (input.layout_rules.cabinet.valid()) {
    const CabinetType& type = input.duct_catalogue.cabinets[input.layout_rules.cabinet];
    for (StationId s : input.layout.stations.ids()) {
      if (input.layout.stations[s].kind != StationKind::cabinet) continue;
      const StationFibre n = fibre.stations[s];
      exceeds(fibre, Rule::cabinet_splitters_exceeded, subject(s),
              {n.splitters_ultimate, type.splitter_slots});
      exceeds(fibre, Rule::trays_exceeded, subject(s), {n.trays, type.trays});
      exceeds(fibre, Rule::feeder_fibres_exceeded, subject(s), {n.feed_fibres, type.feeder_fibres});
    }
  }
  check_headends(input, fibre);
}

}  // namespace plan
