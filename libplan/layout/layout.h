// Stage `layout`: where cabinets and splitters stand, which premises each serves, and what is dug.
//
// One trench tree for feeder and distribution together: from every headend the shortest-path heuristic
// of Takahashi and Matsuyama (Math. Japonica 24, 1980) over opening plus laying costs, all premises as
// terminals; an existing duct is a cheap parallel edge. Where the headend can serve a part of its tree
// itself (entries, duct length) there is no cabinet; else the tree is cut into areas from the far ends
// inwards, each within every limit of its cabinet, and the cabinet put where its duct metres are least.
// Splitter places follow the scenario's stages. Bound: opening cost of forced drops plus the ratio
// 2(1 - 1/k) of the heuristic on the rest. No struct assumes two levels, one headend or a tree.
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
// point with one. Stages [first_stage, first_stage + stages) of the split stand here, in this order; a
// headend that serves premises itself (no cabinet) holds the cabinet's stage too.
struct Station {
  StationKind kind = StationKind::headend;
  NodeId node;
  StationId upstream;        // invalid for a headend; always a smaller id
  HeadendId headend;
  PremisesId premises;       // of a building point
  SiteId site;               // where a listed site was used
  int first_stage = 0, stages = 0;
  int premises_served = 0, dwellings_served = 0;  // directly
  friend bool operator==(const Station&, const Station&) = default;
};

// One unit or cable in one duct path. `to` is valid where it ends at a station, `premises` where it ends
// at a premises; at a building point both.
struct Link {
  StationId from, to;
  PremisesId premises;
  friend bool operator==(const Link&, const Link&) = default;
};

// What later stages found out, fed back: layout again, areas without an ask stay as they are.
struct Asks {
  Table<PremisesId, Length> longest;     // own limit of its duct path; 0 = none. Empty = none at all
  std::vector<SpanId> not_through;       // sorted: existing ducts that are full
  friend bool operator==(const Asks&, const Asks&) = default;
};

struct Layout {
  Table<StationId, Station> stations;
  Table<LinkId, Link> links;
  Lists<LinkId, SpanId> routes;          // spans in order from the `from` station
  Table<StationId, LinkId> feeds;        // the link that feeds it; invalid for a headend
  Table<PremisesId, LinkId> drops;       // the link that ends there; invalid where unserved
  Table<SpanId, uint8_t> used;           // 1 where anything lies in it
  Money trench_cost, trench_bound;       // opening cost of used spans, and certified lower bound
  Money forced_cost;                     // part of both that nothing can change (drops)
  Findings findings;
  friend bool operator==(const Layout&, const Layout&) = default;
};

Layout make_layout(const Network& network, const Basis& basis, const LayoutRules& rules, const Asks& asks,
                   const Run& run);

}  // namespace plan
