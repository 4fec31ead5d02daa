// Stage `takeoff`: quantities read from the placed plan, each with its reason. Nothing is priced.
//
// What is counted: metres of ground opened by surface, special crossings, bundles by type (the nominal run
// and its tails), microduct connectors resolved to catalogue fittings by the ODs of both sides, end stops,
// block connectors, one entry seal for each bundle through a wall (or one for each of its microducts where
// the catalogue has none so wide), closures, chambers, cabinets, splitters of day one, cables by type, parts,
// and the work of the crews. A premises on order gets its laid microduct and nothing blown. Trench, duct,
// blown and cable metres are four quantities and never one. Guaranteed: integers; the quantities of an item
// add up to its cuts; each opened millimetre is counted in one area. O(spans + runs + sections + links).
// Source of tails: docs/numbers.md.
#pragma once
#include <string>
#include <vector>

#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "basis/basis.h"
#include "ducts/ducts.h"
#include "fibre/fibre.h"
#include "layout/layout.h"
#include "network/network.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/rules.h"
#include "scenario/works.h"

namespace plan {

enum class ItemKind : uint8_t {
  opening,
  crossing,
  bundle,
  cable,
  fitting,
  chamber,
  cabinet,
  splitter,
  part,
  work
};
// Parts that the catalogue knows by name alone.
enum class NamedPart : uint8_t {
  outlet,
  boundary_point,
  building_point,
  olt_port,
  splice_tray,
  splice_protector,
  pigtail,
  warning_tape,
  microduct_marker
};

// Whatever can be priced, rated or ordered, by its name in prices, rates and stock.
struct Item {
  std::string name;
  ItemKind kind = ItemKind::work;
  bool in_metres = false;  // amounts are whole millimetres, else pieces
  uint32_t of = 0;         // its place in the catalogue table of its kind; SurfaceId of an opening;
                           // CrossingId of a crossing; NamedPart; TaskKind of a work
  Length drum;             // longest length in one piece; 0 = not on drums
  friend bool operator==(const Item&, const Item&) = default;
};

enum class QuantityReason : uint8_t {
  // opening, warning tape
  opened_span,
  // special crossings: once for each route that is opened anywhere
  crossed,
  // bundles: nominal, and added at chambers, cabinets and premises
  laid_run,
  tail,
  // fittings
  straight_joint,
  reducing_joint,
  closed_end,
  blown_end,
  wall_passed,
  branch,
  // chambers and cabinets
  branch_chamber,
  area_cabinet,
  building_splitter,
  branch_splitter,
  // splitters
  day_one_split,
  // cables: nominal duct path, and added
  blown_link,
  slack_and_tails,
  // parts
  dwelling_served,
  plot_boundary,
  building_entered,
  day_one_pon,
  station_tray,
  splice_made,
  path_end,
  // work
  work_done,
};
std::string_view reason_text(QuantityReason r);  // "tail in chamber, at cabinet or at premises"

// `things` says of how many spans, runs, joints … the amount was added up.
struct Quantity {
  ItemId item;
  StationId area;
  QuantityReason reason = QuantityReason::opened_span;
  int64_t amount = 0;  // whole millimetres or pieces
  int32_t things = 0;
  friend bool operator==(const Quantity&, const Quantity&) = default;
};

// One length in one piece: a run, or the cable of a link.
struct Cut {
  ItemId item;
  Length length;  // tails and slack included
  RunId run;      // one of both is valid
  LinkId link;
  friend bool operator==(const Cut&, const Cut&) = default;
};

struct Takeoff {
  Table<ItemId, Item> items;         // surfaces, bundles, cables, fittings … in catalogue order
  std::vector<Quantity> quantities;  // by item, area, reason; no zeros
  std::vector<Cut> cuts;             // by item, then run, then link
  // An area is a cabinet, or a headend, with all that hangs on it up to the next cabinet.
  Table<StationId, StationId> area;  // of every station; a cabinet's feeder is in the cabinet's area
  Table<LinkId, StationId> link_area;
  Table<RunId, StationId> run_area;    // a run for several areas belongs to the first of them
  Table<SpanId, StationId> span_area;  // the first area with a run in it; invalid where nothing lies
  Table<SpanId, Length> opened;        // 0 where nothing is dug: unused, or an existing duct
  std::vector<ItemId> joint_items;     // the fitting of Ducts::joints, in its order; invalid = none found
  std::vector<StationId> joint_areas;  // the later of the areas of both sides: then both runs are there
  Table<LinkId, uint8_t> proven;       // 1 where the whole duct path is laid at build
  Table<LinkId, uint8_t> blown;        // 1 where the cable is blown at build
  Findings findings;
  friend bool operator==(const Takeoff&, const Takeoff&) = default;
};

struct TakeoffInput {
  const Network& network;
  const Basis& basis;
  const Layout& layout;
  const Ducts& ducts;
  const Fibre& fibre;
  const Demand& demand;
  const DuctCatalogue& duct_catalogue;
  const FibreCatalogue& fibre_catalogue;
  const DuctRules& duct_rules;
  const LayoutRules& layout_rules;
};
Takeoff make_takeoff(const TakeoffInput& input, const Run& run);

}  // namespace plan
