// Stage `layout`: where cabinets and splitters stand, which premises each serves, and what is dug.
//
// One trench forest for feeder and distribution together, a tree from every headend: the shortest-path
// heuristic (solve/steiner.h) over opening plus laying costs, all planned premises as terminals; an
// existing duct is a cheap parallel edge. Trees grow wherever trench is cheapest, past other headends too:
// to keep each to the ground of the nearest headend costs more trench than it saves in feeder. But where
// feeders are beyond their limit, branches are hung on by the cheapest chords that keep it, on whichever tree
// (layout/shortening.h); one stays too long only where every path is. Chords go on being added as long as
// the whole gets cheaper, and crowded spans that were asked about lose feeders to others. Each tree is cut
// into areas from the far ends inwards, every area within all limits of its cabinet and with an allowed node
// in reach of all its premises; where branches cannot share a cabinet, the fuller groups are closed and the
// smallest goes on, once leaving areas compact and once filling cabinets up: the cheaper cut stands. Areas
// that the headend can serve itself (entries, duct length), the nearest first, have no cabinet; every other
// cabinet stands where its microduct and feeder metres cost least, off the crossings where it can, and
// neighbours trade premises. A premises that no place can reach is served from the nearest one, with a
// finding. Certified bound: dual ascent on the opening costs. O(n log n), and for every chord what lies
// within the feeder limit. A limit of 0 m is no limit.
//
// Splitter places follow the scenario's stages, so that every light path passes all of them in order:
// - a headend, cabinet, branch point or building holds the stages of its own place;
// - a station that serves a premises directly holds every later stage too. So a headend without a cabinet
//   holds the cabinet's stages, and the single homes beside buildings with a building stage are split at
//   their serving station;
// - a station whose first stage is f is lit by outputs of stage f - 1 of its upstream station, by the
//   station's own input where f is its first stage.
// Branch points group at most `branch_point_premises` premises and the dwellings of their own stages'
// ratio; one that would stand in its upstream station is dissolved into it. A building stage stands in
// every premises of two or more dwellings.
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/money.h"
#include "base/run.h"
#include "basis/basis.h"
#include "network/network.h"
#include "scenario/rules.h"

namespace plan {

enum class StationKind : uint8_t { headend, cabinet, branch_point, building };

// A termination that feeds others: the headend, a cabinet, a branch point with a splitter, a building
// point with one. Stages [first_stage, first_stage + stages) of the split stand here.
struct Station {
  StationKind kind = StationKind::headend;
  NodeId node;         // invalid for a headend that hangs on no street
  StationId upstream;  // invalid for a headend; always a smaller id
  HeadendId headend;
  PremisesId premises;  // of a building point
  SiteId site;          // where a listed site was used
  int first_stage = 0, stages = 0;
  int premises_served = 0, dwellings_served = 0;  // directly; a building point serves its own premises
  friend bool operator==(const Station&, const Station&) = default;
};

// One unit or cable in one duct path. `to` is valid where it ends at a station, `premises` where it ends
// at a premises; at a building point both.
struct Link {
  StationId from, to;
  PremisesId premises;
  friend bool operator==(const Link&, const Link&) = default;
};

// What later stages found out, fed back: layout again. Areas in which every `longest` holds stay as they
// are, the others are cut again among themselves; a duct that is left moves the trench and all on it.
struct Asks {
  Table<PremisesId, Length> longest;  // own limit of its duct path; 0 = none. Empty = none at all
  std::vector<SpanId> not_through;    // sorted: existing ducts that are full
  std::vector<SpanId> crowded;        // sorted, once a time it was asked: a quarter of its feeders leaves it
  friend bool operator==(const Asks&, const Asks&) = default;
};

struct Layout {
  Table<StationId, Station> stations;  // headends in their own order, cabinets, branch points, buildings
  Table<LinkId, Link> links;           // by `from`, then in the order of a walk down its route tree
  Lists<LinkId, SpanId> routes;        // spans in order from the `from` station; the routes of one
                                       // station's links form a tree
  Table<StationId, LinkId> feeds;      // the link that feeds it; invalid for a headend
  Table<PremisesId, LinkId> drops;     // the link that ends there; invalid where unserved
  Table<SpanId, uint8_t> used;         // 1 where anything lies in it
  int cabinets_at_least = 0;           // no plan with these limits has fewer
  Money trench_cost, trench_bound;     // opening cost of used spans, and certified lower bound
  Money forced_cost;                   // part of both that nothing can change (drops and dead ends)
  Findings findings;
  friend bool operator==(const Layout&, const Layout&) = default;
};

Layout make_layout(const Network& network, const Basis& basis, const LayoutRules& rules, const Asks& asks,
                   const Run& run);

}  // namespace plan
