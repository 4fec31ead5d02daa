// An invented estate of any size, for demos, tests and measurements: same seed, same bytes.
//
// A jittered grid of streets, each with a pavement on both sides and crossings at its ends and mostly in
// its middle; plots along the pavements, most of them built on; surfaces by street; some buildings of
// several dwellings; some existing ducts along a street; a headend for about every 1,250 premises. The
// shape (60-160 m between crossings, 3-8 plots a side, 73 % built) follows no real place; every name and
// number is invented.
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/csv.h"
#include "base/point.h"
#include "estate/estate_table.h"

namespace withy {

struct InventedPremises {
  std::string name, street, connect;  // connect as the scenario says it
  plan::Point at;
  int dwellings = 1;
};
struct InventedRoute {
  std::string name, surface;
  std::vector<plan::Point> line;
  bool existing_duct = false;
};
struct InventedHeadend {
  std::string name;
  plan::Point at;
};
struct InventedEstate {
  std::vector<InventedPremises> premises;
  std::vector<InventedRoute> routes;
  std::vector<InventedHeadend> headends;
};

InventedEstate invent(int premises, uint64_t seed);
// One thing after another: a million premises take no more memory than their crossings.
struct InventedTaker {
  std::function<void(const InventedPremises&)> premises;
  std::function<void(const InventedRoute&)> routes;
  std::function<void(const InventedHeadend&)> headends;
};
void invent(int premises, uint64_t seed, const InventedTaker& taker);

// The estate as files of the scenario language.
std::string premises_geojson(const InventedEstate& estate);
std::string routes_geojson(const InventedEstate& estate);
// A twelve-line brief that names both files.
std::string invented_scenario(const InventedEstate& estate, const std::string& name);

// The same files, streamed.
struct InventedSinks {
  plan::Sink premises, routes, scenario;
};
struct InventedCounts {
  size_t premises = 0, routes = 0, headends = 0;
};
InventedCounts write_invented(int premises, uint64_t seed, const std::string& name, TableKind kind,
                              const InventedSinks& sinks);

}  // namespace withy
