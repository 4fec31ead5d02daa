// The estate as it is being made: what streets.h and premises.h decide and the folder writer writes down.
// Whole millimetres in one plane: metres of the UTM zone of the data's median point, so that coordinates
// agree with other maps; `plane` says which.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "estate/map.h"

namespace withy {

// What confidence a fact of the draft has, as the scenario writes it.
enum class Known : uint8_t { assumed, mapped, surveyed };

// One row of routes: a street side, centre-line, crossing or existing duct.
struct DraftRoute {
  MapId id;
  std::vector<plan::Point> line;
  std::vector<int32_t> heights;  // mm above the datum, beside `line`; empty where unknown
  std::string name;              // of the row, once in the estate
  std::string street;            // as shown to people; empty where unnamed
  StreetClass street_class = StreetClass::unstated;
  std::string surface;  // of the scenario's surfaces
  std::string method;   // empty = usual
  Known surface_known = Known::assumed;
  bool drops = true;                    // a drop may leave it midway
  int level = 0;                        // routes of other levels meet it only at their ends
  bool bridge = false, tunnel = false;  // as a whole
  bool restricted = false;              // private or otherwise restricted way
  std::string crossing;   // "rail", "water", "motorway", "carriageway", "bridge", "tunnel"; empty = nothing
  std::string forbidden;  // who fixed that nothing is laid, and why; empty = allowed
  const MapDuct* duct = nullptr;  // an existing duct
};

// What a street crosses at a price. An area of water is its closed outline; outlines of one id belong to
// one area, the inner ones being its islands.
struct DraftBarrier {
  MapId id;
  BarrierKind kind = BarrierKind::rail;
  std::vector<plan::Point> line;
  int level = 0;
  bool bridge = false, tunnel = false;
};

// One row of premises.
struct DraftPremises {
  MapId id;
  plan::Point at;      // the entry
  plan::Point centre;  // of its building, or the address point
  std::string name, street;
  int dwellings = 1;
  const char* dwellings_rule = "";  // which rule gave the number; a literal, counted in the report
  bool building_point = false;
  int64_t riser = 0, indoor = 0, boundary = 0;  // mm; 0 = unknown
  Known entry_known = Known::assumed, dwellings_known = Known::assumed, boundary_known = Known::assumed;
  std::optional<plan::Point> drop_from;  // where the drop leaves the street, if not at the nearest point
};

struct DraftHeadend {
  std::string name;
  plan::Point at;
  int64_t dwellings = 0;  // it is proposed for
};

// A remark placed in the plane.
struct Draft {
  std::string plane;  // "EPSG:32632"
  std::vector<DraftRoute> routes;
  std::vector<DraftPremises> premises;
  std::vector<DraftHeadend> headends;
  std::vector<MapRemark> remarks;
};

}  // namespace withy
