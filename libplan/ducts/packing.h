// Packs the links of one station into bundle runs along their route tree.
//
// Branches are visited from the station outwards. At each one, the runs that arrive lose the links that
// end there; each goes on into the branch that most of its links take. The rest turns out, and all that
// turns out into one branch is packed together: as many to a bundle as fit with their spare, neighbours
// together, the remainder in the smallest bundle that holds it. A run also ends where
//   - less than the taper share of its ways goes on after some left, and a smaller bundle would do;
//   - its bundle may not lie in the next span;
//   - its drum is used up: a smaller bundle follows where one would do, else the same with all ways joined.
#pragma once
#include <utility>
#include <vector>

#include "ducts/ducts.h"
#include "ducts/route_tree.h"
#include "ducts/shelf.h"

namespace plan {

// How far one position of a run is in use: from the run's start to `end`.
struct RunSlot {
  LinkId link;  // invalid: dead from the start, left before a cut
  NodeId end;
  Length reach;
};

struct RunDraft {
  BundleRun run;
  RunId cut_from;    // the run this one continues after a cut, way by way
  bool cut = false;  // continued by another in the same way
  int opened = 0;    // nodes on the way where microducts turn out of it, each with a tail
  size_t first_slot = 0;
  int taken = 0;  // positions 1 … taken have a slot; the others are spare
};

struct Drafts {
  Table<RunId, RunDraft> runs;
  std::vector<RunSlot> slots;
  std::vector<std::pair<RunId, SpanId>> spans;  // of each run in order, runs interleaved
  Findings findings;
};

// What follows after a link's last branch: its drop.
struct LaidDrop {
  std::span<const SpanId> spans;  // empty: the link ends with its bundle
  bool laid = true;
  Length length;  // as laid: to the door, or to the boundary
};

struct PackInput {
  const DuctInput& in;
  StationId station;
  DuctRole role = DuctRole::distribution;
  const Shelf& shelf;
  const Shelf& drop_shelf;
  const Table<LinkId, LaidDrop>& drops;
};
void pack(const PackInput& input, const RouteTree& tree, Drafts& drafts);

LaidIn laid_in(const Network& network, SpanId span);

}  // namespace plan
