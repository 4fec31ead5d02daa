// Stage `basis`: the basis of design. What each premises needs and what a metre, a cabinet, a blow and
// a split cost or allow, read once from catalogues, prices and rules and clamped to what this estate can
// use. `layout` sees catalogues, prices, blow and optic rules only through this table, so that most
// edits of them end here (early cut-off).
//
// Longest blow: the blow screen on the standard route of docs/design.md (one corner per 100 m, the
// rules' tortuosity) with the commonest unit, at the friction of the blowing stage (over the rules' length
// share), clamped to the longest path in the estate. Longest light: what the class leaves for glass after
// splitters, splices, connectors and margin. A thing without a design price never weighs nothing:
// basis/weights.h. "As many as needed" of a headend is a limit that no estate reaches.
#pragma once
#include <vector>

#include "base/finding.h"
#include "base/id.h"
#include "base/money.h"
#include "base/run.h"
#include "network/network.h"
#include "scenario/scenario.h"

namespace plan {

struct PremisesNeed {
  bool planned = false;   // connect is not `never` and a headend reaches it
  bool reserved = false;  // on order: microduct, port and blow kept ready
  int dwellings = 0;
  int fibres = 0;  // in its unit: dwellings times fibres each, plus spare
  CableId unit;    // smallest that holds them and fits the microduct
  MicroductId microduct;
  friend bool operator==(const PremisesNeed&, const PremisesNeed&) = default;
};

struct HeadendLimits {
  int olt_ports = 0, microduct_entries = 0, feeder_fibres = 0;
  friend bool operator==(const HeadendLimits&, const HeadendLimits&) = default;
};

struct CabinetLimits {  // at design fill
  CabinetTypeId type;
  int premises = 0;   // microduct entries
  int dwellings = 0;  // drop fibres and splitter ports, the smaller
  friend bool operator==(const CabinetLimits&, const CabinetLimits&) = default;
};

struct Basis {
  Table<PremisesId, PremisesNeed> needs;
  Table<SpanId, Money> open_cost;  // opening the ground and making good; 0 for an existing duct
  Table<SpanId, Money> lay_cost;   // one distribution microduct's share of bundle and unit laid here
  Table<SpanId, uint8_t> usable;
  std::vector<UnitPrice> metre_by_ways;  // cheapest distribution bundle with at least n ways, [0] = 0
  UnitPrice unit_metre;                  // the commonest unit, with blowing
  UnitPrice feeder_metre;                // feeder microduct and cable of the usual cabinet
  Money cabinet_cost, joint_cost;
  Table<HeadendId, HeadendLimits> headends;
  CabinetLimits cabinet;
  Length longest_drop;    // duct path cabinet or headend to premises, blow and rule
  Length longest_feeder;  // duct path headend to cabinet
  Length longest_light;   // glass from OLT to outlet under the class; 0 if the split alone fails
  bool sites_only = false;
  Table<SiteId, uint8_t> site_allowed;  // 0 where no cabinet may stand (forbidden); empty = all allowed
  Findings findings;
  friend bool operator==(const Basis&, const Basis&) = default;
};

Basis make_basis(const Scenario& scenario, const Network& network, const Run& run);

}  // namespace plan
