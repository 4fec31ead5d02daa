// Stage `ducts`: which bundle lies in each span and which microduct of it leads to which door, section
// by section.
//
// The links of a station are taken in the order of a walk down its route tree and packed, neighbours
// together, into bundle runs: the smallest bundle that holds them and the spare share. A run follows
// most of its microducts; where others leave it they turn out and are joined to a smaller run or to the
// drop microduct; where less than the taper share goes on, the run ends and a smaller one begins. Runs
// longer than a drum get in-line joints of all ways. Feeder and distribution never share a bundle. What
// lies beyond a turn-out is a dead section; unused positions are spare; both are closed with end stops.
//
// On order: the microduct is laid to the door, to the boundary (the drop is that long and still names the
// premises as its end; an unknown boundary lays all of it) or only to the turn-out, and closed with end
// stops at both ends, as nothing is blown yet.
//
// Guaranteed: each end of each section has one fitting; sections of one position of one run lie end to end,
// each carries at most one link, and every link's path is unbroken from its station to its end. What
// breaks a rule (bundles in a span, area of an existing duct, place, fill of units, radii at the laying
// temperature, drum length) is a finding and still planned. Feeder cables are chosen after this stage, which
// holds them to no fill. O(sum of sections and span entries, n log n to sort).
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "basis/basis.h"
#include "layout/layout.h"
#include "network/network.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/rules.h"

namespace plan {

enum class DuctRole : uint8_t { feeder, distribution, drop };

// One continuous length of bundle between joints; a drop is a bundle of one way.
struct BundleRun {
  BundleId bundle;
  DuctRole role = DuctRole::distribution;
  StationId station;  // whose links it carries
  NodeId from, to;    // from = towards the station
  Length length;      // nominal, along the spans
  friend bool operator==(const BundleRun&, const BundleRun&) = default;
};

enum class SectionState : uint8_t { used, reserved, spare, dead };
// One position of one run between two of its nodes: what can be used once.
struct Section {
  RunId run;
  int position = 1;  // 1 … ways
  SectionState state = SectionState::spare;
  NodeId from, to;
  Length length;
  LinkId link;  // of used and reserved
  friend bool operator==(const Section&, const Section&) = default;
};

enum class JointKind : uint8_t { straight, reducing, end_stop, block_connector };
struct Joint {
  NodeId node;
  JointKind kind = JointKind::straight;
  SectionId a, b;  // b invalid for an end stop and a block connector
  friend bool operator==(const Joint&, const Joint&) = default;
};

// A node where microducts turn out, are joined or end, other than at their own station or premises. Where
// runs of more than one way are joined, by more joints than a buried closure may hold, it has a chamber: the
// rule's, or the smallest that holds the joints.
struct BranchPoint {
  NodeId node;
  ChamberTypeId chamber;  // invalid: a buried branch closure
  int joints = 0;         // straight and reducing
  friend bool operator==(const BranchPoint&, const BranchPoint&) = default;
};

struct Ducts {
  Table<RunId, BundleRun> runs;
  Lists<RunId, SpanId> run_spans;  // in order from `from`
  Table<SectionId, Section> sections;
  Lists<LinkId, SectionId> paths;  // duct path of each link, from its station; empty where nothing is laid
  std::vector<Joint> joints;       // by node, then section
  std::vector<BranchPoint> branch_points;  // by node
  Lists<SpanId, RunId> runs_in_span;
  Findings findings;
  friend bool operator==(const Ducts&, const Ducts&) = default;
};

struct DuctInput {
  const Network& network;
  const Basis& basis;
  const Layout& layout;
  const Demand& demand;
  const DuctCatalogue& catalogue;
  const FibreCatalogue& cables;  // fill: what will be blown in
  const DuctRules& rules;
  const LayoutRules& layout_rules;  // chamber type
};
Ducts make_ducts(const DuctInput& input, const Run& run);

}  // namespace plan
