// OpenStreetMap files as map sources: .osm.pbf, .osm, .osm.gz, .osm.bz2. Read with libosmium; all of it
// stays inside osm_map.cpp.
//
// A file is read twice, nodes and relations first, ways then, so that objects may stand in any order.
// Memory is 16 bytes a node and what is taken. What is taken stands in the map by kind, then number, so
// that the order in the file changes nothing. Of an object given twice the last counts.
//
// Taken: streets of the classes of map.h (all other values of `highway` are left out with a remark,
// motorways are barriers); buildings from closed ways and multipolygon relations; addresses from nodes
// with a house number; rails, trams, water and motorways as barriers. Clipped files are normal: absent
// nodes are dropped from their ways, each such way with a remark that names the longest straight line
// this made; a building outline that lacks a node is left out. A remark on what has no place in the file
// stands at {0, 0}.
//
//   withy::Map map;
//   auto counts = withy::read_osm("town.osm.pbf", map);
//   if (!counts) print(counts.diagnostics);
#pragma once
#include <cstdint>
#include <filesystem>

#include "base/result.h"
#include "estate/map.h"

namespace withy {

// What was met in the file, taken or not.
struct OsmCounts {
  uint64_t nodes = 0, ways = 0, relations = 0;
  uint64_t highway_ways = 0, building_ways = 0, house_number_nodes = 0;
  uint64_t interpolation_ways = 0;
  uint64_t references = 0;         // of ways to nodes
  uint64_t absent_references = 0;  // the node is not in the file, or its place is none
  uint64_t absent_from_highways = 0, absent_from_buildings = 0;  // of them
  uint64_t unplaced_nodes = 0;     // without a place, or outside 180 by 90 degrees
  double longest_jump_metres = 0;  // straight line across absent nodes, of ways that are taken
  MapId longest_jump;
};

// By its ending, in any case of letters.
bool is_osm_name(const std::filesystem::path& path);

// Appends the file to `map` as one more source; leaves `map` untouched where it gives diagnostics (a
// damaged, empty or foreign file). Throws OutsideFault where the file is missing or cannot be read.
plan::Result<OsmCounts> read_osm(const std::filesystem::path& path, Map& map);

}  // namespace withy
