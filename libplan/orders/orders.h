// Stage `orders`: one work order for each crew-day, joined from programme, drum cuts, blows, splices and
// ledgers.
//
// Kept are ids and numbers; texts are written by the report. A stop is one task's share of the day; its
// lines (one for each span, run, joint place, duct path or dwelling) are expanded only when a sheet is
// written, because 100,000 premises have millions of them. What Withy cannot know (permit number,
// supervisor, access, results) stays blank on the sheet. The id of an order is a hash of scenario, crew and
// date and survives re-planning. Guaranteed: order k is crew-day k; its loads add up over all orders to the
// take-off of what is loaded. O(parts).
#pragma once
#include <string>
#include <vector>

#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "blowing/blowing.h"
#include "bom/bom.h"
#include "ducts/ducts.h"
#include "fibre/fibre.h"
#include "layout/layout.h"
#include "network/network.h"
#include "optics/optics.h"
#include "orders/cautions.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/works.h"
#include "schedule/schedule.h"
#include "takeoff/takeoff.h"

namespace plan {

struct WorkOrder {
  uint64_t id = 0;        // stable hash, printed with hex16
  StationId area;         // of its first stop
  uint16_t cautions = 0;  // bit k-1 = caution Ck (orders/cautions.h)
  Work worked;            // standard minutes
  friend bool operator==(const WorkOrder&, const WorkOrder&) = default;
};

struct Stop {
  TaskId task;
  NodeId node;         // where to go
  RouteId route;       // street or route nearby; permit and rules stand there
  int64_t amount = 0;  // this day's share, whole millimetres or pieces
  Work from, to;       // after the shift began
  uint16_t cautions = 0;
  bool continued = false;  // begun on an earlier day
  friend bool operator==(const Stop&, const Stop&) = default;
};

struct Load {  // material to load for the day
  ItemId item;
  int64_t amount = 0;  // whole millimetres or pieces
  friend bool operator==(const Load&, const Load&) = default;
};

struct Orders {
  Table<OrderId, WorkOrder> orders;  // same ids as Schedule::crew_days
  Lists<OrderId, Stop> stops;
  Lists<OrderId, Load> loads;  // by item
  Findings findings;
  friend bool operator==(const Orders&, const Orders&) = default;
};

struct OrdersInput {
  const Network& network;
  const Layout& layout;
  const Ducts& ducts;
  const Fibre& fibre;
  const Blowing& blowing;
  const Optics& optics;
  const Takeoff& takeoff;
  const Schedule& schedule;
  const Bill& bill;
  const Demand& demand;
  const DuctCatalogue& duct_catalogue;
  const FibreCatalogue& fibre_catalogue;
  const Crews& crews;
};
Orders make_orders(const OrdersInput& input, const Run& run);

// One end of a duct path as the crew finds it.
struct TubeEnd {
  NodeId node;
  int position = 0;  // 1 … ; 0 = none
  std::string colour;
  friend bool operator==(const TubeEnd&, const TubeEnd&) = default;
};

// One line of a stop: recomputed when a sheet is written, never stored. Only what fits the task is set.
struct StopLine {
  uint32_t thing = 0;  // id of the stop's thing, see thing_kind()
  int64_t amount = 0;  // whole millimetres or pieces
  LinkId link;         // prove, blow, test, connect
  TubeEnd a, b;        // launch end first
  CableId cable;
  DrumId drum;  // lay and blow
  Length drum_in, drum_out;
  Pressure pressure;
  Length push_only;  // how far pushing alone gets
  double free_air_litres_per_minute = 0;
  int bends = 0;
  int fibre = 0;  // of test and connect
  Loss budget;    // planned loss downstream of test and connect
  friend bool operator==(const StopLine&, const StopLine&) = default;
};
// A second entry point because the lines of all stops do not fit in memory.
std::vector<StopLine> expanded_stop(const OrdersInput& input, const Stop& stop);

}  // namespace plan
