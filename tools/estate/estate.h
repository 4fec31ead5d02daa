// From sources to an estate, ready to be written: the whole way of `withy estate` but its folder.
//
//   Map map;
//   if (const auto faults = read_sources({"town.osm.pbf"}, {}, map); !faults.empty()) …
//   const auto estate = draw_estate(map, rules, run);      // the map stays: the draft points into it
//   if (estate) write_estate({map, estate->draft, estate->components}, brief, folder);
#pragma once
#include <string>
#include <vector>

#include "base/result.h"
#include "base/run.h"
#include "estate/components.h"
#include "estate/headends.h"
#include "estate/plane.h"
#include "estate/premises.h"
#include "estate/streets.h"
#include "estate/vector_map.h"

namespace withy {

struct EstateRules {
  std::vector<std::string> elevation;  // rasters
  StreetRules streets;
  PremisesRules premises;
  HeadendRules headends;
};

struct DrawnEstate {
  Draft draft;
  Components components;
};

// Appends every source to the map, by the ending of its name. What is wrong with the first bad one; empty
// where none is. Throws OutsideFault where a file is missing.
plan::Diagnostics read_sources(const std::vector<std::string>& paths, const VectorOptions& options, Map& map);

// Streets with their heights, premises with their drops, components, proposed headends. A map without streets
// or premises is none. Tells the stages streets, premises, headends.
plan::Result<DrawnEstate> draw_estate(const Map& map, const EstateRules& rules, const plan::Run& run);

}  // namespace withy
