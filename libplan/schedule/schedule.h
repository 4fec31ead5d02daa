// Stage `schedule`: the programme. Which crew does which task when, and how far from the best possible.
//
// Tasks are pieces of the take-off of about a crew-day or less: a street's spans of one surface (dig,
// reinstate), runs (lay), chambers, cabinets, joints (couple), duct paths (prove, then blow), stations
// (splice), dwellings (test, connect). Precedence: dig, lay, reinstate; dig, chamber and cabinet; all runs
// of a path laid and all its joints coupled, then prove, blow, splice at every station of the light path,
// test, connect. A task waits for its material: day one plus the stock's lead, never the call-off; no trench
// is opened before its bundles are there. Rule: an event-driven list schedule on the axis of working
// minutes. A crew that is free takes, of the ready tasks of its skills that still fit, the one of the
// earliest area (laying first, making good with the next area), then of the longest tail, then of the
// smallest id. Gross rates hold the way between stops, for net ones it is added. Prove, blow, splice, test
// and connect are never split at a shift's end. Guaranteed: one task at a time for a crew, skills held, no
// work on a day off. Bound: the larger of the critical path and, over all sets of skills, earliest start +
// work / crews that hold any of them + shortest rest. O(n log n).
#pragma once
#include <vector>

#include "base/date.h"
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "blowing/blowing.h"
#include "ducts/ducts.h"
#include "fibre/fibre.h"
#include "layout/layout.h"
#include "network/network.h"
#include "scenario/demand.h"
#include "scenario/works.h"
#include "takeoff/takeoff.h"

namespace plan {

// What a task's things are: SpanId of dig and reinstate, RunId of lay, NodeId of chamber and couple,
// StationId of cabinet and splice, LinkId of prove and blow, DwellingId of test and connect.
enum class ThingKind : uint8_t { span, run, node, station, link, dwelling };
ThingKind thing_kind(TaskKind k);
// Amounts in whole millimetres (dig, lay, blow, reinstate), else pieces: chambers, cabinets, joints, duct
// paths, splices, dwellings.
bool in_metres(TaskKind k);

struct Task {
  TaskKind kind = TaskKind::dig;
  StationId area;
  SurfaceId surface;   // of dig and reinstate
  NodeId at;           // first place of work; of a blow the launch point
  int64_t amount = 0;  // whole millimetres or pieces
  Work duration;       // of one crew, set-up included
  CrewId crew;         // invalid where no crew has the skill
  Work start, finish;  // working minutes after the first shift began
  friend bool operator==(const Task&, const Task&) = default;
};

// What a crew does on one day; the stops of its work order.
struct CrewDay {
  Date date;
  CrewId crew;
  friend bool operator==(const CrewDay&, const CrewDay&) = default;
};
struct TaskPart {
  TaskId task;
  Work from, to;       // minutes after this day's shift began
  int64_t amount = 0;  // this day's share; the parts of a task add up to its amount
  friend bool operator==(const TaskPart&, const TaskPart&) = default;
};

enum class Binding : uint8_t { none, critical_path, crews };

struct Schedule {
  Table<TaskId, Task> tasks;  // by kind, area, place
  Lists<TaskId, uint32_t> things;
  Lists<TaskId, TaskId> before;       // tasks that must be finished first, sorted
  Table<OrderId, CrewDay> crew_days;  // by date, then crew; only days with work
  Lists<OrderId, TaskPart> parts;     // in the order of the day
  Table<StationId, Date> area_ready;  // last task of the area; the start where it has none
  Work length, bound;                 // working minutes; bound <= length
  Binding binding = Binding::none;
  std::vector<TaskKind> bottleneck;     // the skills that bind
  Date start, finish, earliest_finish;  // days of the first shift, the last shift, and of the bound
  Findings findings;
  friend bool operator==(const Schedule&, const Schedule&) = default;
};

struct ScheduleInput {
  const Network& network;
  const Layout& layout;
  const Ducts& ducts;
  const Fibre& fibre;
  const Blowing& blowing;
  const Takeoff& takeoff;
  const Demand& demand;
  const Stock& stock;
  const Crews& crews;
};
Schedule make_schedule(const ScheduleInput& input, const Run& run);

}  // namespace plan
