// A drawn estate taken through every stage up to the take-off, with the shipped catalogue, rules and
// prices. Whatever a case wants changed is changed in the scenario first.
#pragma once
#include "blowing/blowing.h"
#include "drawn.h"
#include "optics/optics.h"
#include "scenario_text.h"
#include "takeoff/takeoff.h"

namespace plan {

// The shipped scenario around a drawn estate. All invented.
inline Scenario scenario_around(Demand demand) {
  Scenario s = scenario_from(R"(
scenario: Drawn
start: 2027-03-01
estate:
  coordinates: metres
  premises: [{name: A, at: [10, 5]}]
  routes: [{name: lane, line: [[0, 0], [100, 0]], surface: verge}]
headends: [{name: Exchange, at: [0, 0]}]
class: GPON B+
)");
  s.demand = Slice<Demand>(std::move(demand));
  return s;
}

struct Planned {
  Scenario s;
  Network network;
  Basis basis;
  Layout layout;
  Ducts ducts;
  Fibre fibre;
  Blowing blowing;
  Optics optics;
  Takeoff takeoff;

  explicit Planned(Scenario scenario) : s(std::move(scenario)) {
    network = make_network(*s.demand, *s.site, {});
    basis = make_basis(s, network, {});
    layout = make_layout(network, basis, *s.layout_rules, {}, {});
    ducts = make_ducts({network, basis, layout, *s.demand, *s.duct_catalogue, *s.fibre_catalogue,
                        *s.duct_rules, *s.layout_rules},
                       {});
    fibre = make_fibre({network, basis, layout, ducts, *s.demand, *s.duct_catalogue, *s.fibre_catalogue,
                        *s.layout_rules, *s.duct_rules, *s.fibre_rules},
                       {});
    blowing = make_blowing(
        {network, layout, ducts, fibre, *s.duct_catalogue, *s.fibre_catalogue, *s.duct_rules, *s.blow_rules},
        {});
    optics = make_optics({layout, fibre, *s.demand, *s.fibre_catalogue, *s.fibre_rules, *s.optic_rules}, {});
    takeoff = make_takeoff(takeoff_input(), {});
  }
  explicit Planned(Demand demand) : Planned(scenario_around(std::move(demand))) {}

  TakeoffInput takeoff_input() const {
    return {
        network,       basis,          layout, ducts, fibre, *s.demand, *s.duct_catalogue, *s.fibre_catalogue,
        *s.duct_rules, *s.layout_rules};
  }
};

}  // namespace plan
