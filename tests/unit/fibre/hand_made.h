// Hand-made estates for the tests of fibre, optics and acceptance: stations and premises are hung on each
// other one by one, every link on one span of its own. All figures are invented unless a test names a source.
#pragma once
#include <string>
#include <vector>

#include "fibre/fibre.h"

namespace hand_made {
using namespace plan;

inline Cable cable(std::string name, CableClass c, int fibres, double od_mm) {
  Cable cable;
  cable.name = std::move(name);
  cable.cable_class = c;
  cable.fibres = fibres;
  cable.od = millimetres(od_mm);
  return cable;
}

struct Estate {
  Demand demand;
  DuctCatalogue duct_catalogue;
  FibreCatalogue catalogue;
  LayoutRules layout_rules;
  DuctRules duct_rules;
  FibreRules rules;
  Network network;
  Basis basis;
  Layout layout;
  Ducts ducts;
  MicroductId thin, wide;
  CableId unit;

  Estate() {
    duct_catalogue.microducts.reserve(2);
    thin = add_microduct("7/3.5 mm microduct", 7, 3.5);
    wide = add_microduct("12/10 mm microduct", 12, 10);
    duct_rules.feeder_microduct = wide;
    duct_rules.distribution_microduct = thin;
    duct_rules.unit_fill = {0.5, 0.6};
    duct_rules.microcable_fill = {0.65, 0.75};  // trade default, fail above 75 %
    unit = catalogue.cables.add(cable("12-fibre unit", CableClass::fibre_unit, 12, 1.6));
    catalogue.cables.add(cable("4-fibre unit", CableClass::fibre_unit, 4, 1.1));
    catalogue.cables.add(cable("24-fibre mini cable", CableClass::mini_cable, 24, 2.8));
    catalogue.cables.add(cable("72-fibre microcable", CableClass::microcable, 72, 5.2));
    catalogue.cables.add(cable("144-fibre microcable", CableClass::microcable, 144, 7.9));
    catalogue.cables.add(cable("288-fibre microcable", CableClass::microcable, 288, 9.4));
    rules.feeder_spare_share = 0;
    rules.slack_share = 0;
    rules.spare_fibres_per_unit = 0;
  }

  MicroductId add_microduct(std::string name, double od, double id) {
    Microduct m;
    m.name = std::move(name);
    m.od = millimetres(od);
    m.id = millimetres(id);
    m.rated = bar_gauge(15);
    return duct_catalogue.microducts.add(m);
  }

  void split(std::vector<SplitStage> stages) { layout_rules.split = std::move(stages); }
  SplitterTypeId add_splitter(int ports, double max_db, bool connectorised = false) {
    SplitterType t;
    t.name = "1:" + std::to_string(ports);
    t.ports = ports;
    t.max_loss = decibels(max_db);
    t.connectorised = connectorised;
    return catalogue.splitters.add(t);
  }

  StationId headend(int first_stage = 0, int stages = 0) {
    const HeadendId h = demand.headends.add(Headend{"headend", {}, 0, 0, 0});
    Station s;
    s.kind = StationKind::headend;
    s.headend = h;
    s.first_stage = first_stage;
    s.stages = stages;
    layout.feeds.add(LinkId());
    return layout.stations.add(s);
  }

  // A station fed from `from`, stages [first, first + count).
  StationId station(StationKind kind, StationId from, std::pair<int, int> first_and_count,
                    Length route = metres(500)) {
    Station s;
    s.kind = kind;
    s.upstream = from;
    s.headend = layout.stations[from].headend;
    s.first_stage = first_and_count.first;
    s.stages = first_and_count.second;
    const StationId id = layout.stations.add(s);
    layout.feeds.add(add_link({from, id, PremisesId()}, route));
    return id;
  }

  PremisesId premises(StationId from, int dwellings = 1, Length route = metres(50)) {
    const PremisesId p = add_premises(dwellings);
    layout.drops.add(add_link({from, StationId(), p}, route));
    return p;
  }

  // A building with a splitter of its own.
  PremisesId building(StationId from, int dwellings, std::pair<int, int> first_and_count,
                      Length route = metres(50)) {
    const PremisesId p = add_premises(dwellings);
    const StationId s = station(StationKind::building, from, first_and_count, route);
    layout.stations[s].premises = p;
    layout.links[layout.feeds[s]].premises = p;
    layout.drops.add(layout.feeds[s]);
    return p;
  }

  // On the estate, but no station serves it.
  PremisesId unserved(int dwellings, bool planned) {
    const PremisesId p = add_premises(dwellings);
    basis.needs[p].planned = planned;
    layout.drops.add(LinkId());
    return p;
  }

  FibreInput input() const {
    return {network,        basis,     layout,       ducts,      demand,
            duct_catalogue, catalogue, layout_rules, duct_rules, rules};
  }
  Fibre make() const { return make_fibre(input(), Run{}); }

 private:
  PremisesId add_premises(int dwellings) {
    Premises p;
    p.dwellings = dwellings;
    PremisesNeed need;
    need.planned = true;
    need.dwellings = dwellings;
    need.fibres = dwellings;
    need.unit = unit;
    need.microduct = thin;
    basis.needs.add(need);
    return demand.premises.add(p);
  }
  LinkId add_link(Link link, Length route) {
    Span span;
    span.length = route;
    const SpanId s = network.spans.add(span);
    layout.routes.add(std::vector<SpanId>{s});
    return layout.links.add(link);
  }
};

}  // namespace hand_made
