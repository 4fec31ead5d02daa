// Where premises, headends, sites and the ends of existing ducts hang on the streets: the nearest point
// of the nearest leg that may be opened, ties by route, leg, position.
#pragma once
#include <array>
#include <vector>

#include "base/finding.h"
#include "base/run.h"
#include "graph/segment_index.h"
#include "scenario/demand.h"

namespace plan {

// Farther than this nothing is hung, and a finding says so. Common practice, no source.
inline constexpr Length farthest_hang = whole_millimetres(200'000);
// A chamber at the end of an existing duct joins a street within this; else the duct's end stands on
// its own. Common practice, no source.
inline constexpr Length farthest_chamber = whole_millimetres(2'000);
// Said of a thing that lies far from every street because no street may be opened at all.
inline constexpr Length no_street = whole_millimetres(1'000'000'000);

struct Hang {
  bool found = false;
  RouteId route;
  uint32_t leg = 0;  // from vertex leg to leg + 1 of the route's line
  Point entry;       // on it, rounded to whole millimetres
  Length distance;   // from the entry, whole millimetres
};

struct Hangs {
  Table<PremisesId, Hang> premises;
  Table<HeadendId, Hang> headends;
  Table<SiteId, Hang> sites;
  std::vector<RouteId> ducts;                  // existing ducts
  std::vector<std::array<Hang, 2>> duct_ends;  // of each, beside `ducts`
  Findings findings;                           // in order of premises, headends, sites
};

// `closed` routes are forbidden or blocked: nothing hangs on them.
Hangs hang_estate(const Demand& demand, const Table<RouteId, uint8_t>& closed, const Run& run);

}  // namespace plan
