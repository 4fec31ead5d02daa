// Tasks from the take-off, and what has to be finished before each.
#pragma once
#include <algorithm>
#include <tuple>
#include <vector>

#include "schedule/rates.h"
#include "schedule/schedule.h"

namespace plan {

// One thing to be worked on, before things are gathered into tasks.
struct TaskPiece {
  StationId area;
  SurfaceId surface;
  NodeId at;
  uint32_t thing = 0;
  int64_t amount = 0;
  Work running = {};  // of a blow, at the planned speed
};

// Gathers pieces in order into tasks of about half a shift, so that what may not be split leaves little
// of a day unused; one area and one surface a task, one place a splice. Tasks of all kinds are numbered on.
class TaskMaker {
 public:
  TaskMaker(const ScheduleInput& input, const Rates& rates, Schedule& out);
  void add(TaskKind kind, const std::vector<TaskPiece>& pieces);
  // The task of each thing of the kind last added; where a thing is in several, the first.
  std::vector<TaskId> task_of(size_t things) const;

 private:
  void open(const TaskPiece& p);
  void close();
  const Rate* rate_of(SurfaceId surface) const;
  Work duration_with(const Rate* rate, const TaskPiece* next) const;
  const ScheduleInput& in_;
  const Rates& rates_;
  Schedule& out_;
  TaskKind kind_ = TaskKind::dig;
  uint32_t first_ = 0;
  Task open_;
  std::vector<uint32_t> things_;
  int places_ = 0;
  Work running_;
  NodeId last_place_;
};

// May a task be interrupted at a shift's end?
bool splittable(TaskKind k);

// Tasks of things that are worked on once for each area.
class AreaTasks {
 public:
  AreaTasks() = default;
  AreaTasks(const Schedule& schedule, size_t first_task);
  template <class F>
  void each(uint32_t thing, StationId area, F&& use) const {
    const Row from{thing, area, TaskId(0U)};
    for (auto r = std::lower_bound(rows_.begin(), rows_.end(), from);
         r != rows_.end() && std::get<0>(*r) == thing && std::get<1>(*r) == area; ++r)
      use(std::get<2>(*r));
  }

 private:
  using Row = std::tuple<uint32_t, StationId, TaskId>;
  std::vector<Row> rows_;
};

struct TaskIndex {
  std::vector<TaskId> dig, reinstate;  // by span
  std::vector<TaskId> lay;             // by run
  std::vector<TaskId> chamber;         // by node
  std::vector<TaskId> cabinet;         // by station
  std::vector<TaskId> prove, blow;     // by link
  std::vector<TaskId> test, connect;   // by dwelling
  AreaTasks couple;                    // by node
  AreaTasks splice;                    // by station
};

// Fills tasks and things.
TaskIndex make_tasks(const ScheduleInput& input, const Rates& rates, Schedule& out);
// Fills before.
void find_precedence(const ScheduleInput& input, const TaskIndex& index, Schedule& out);

}  // namespace plan
