#include <algorithm>

#include "schedule/tasks.h"

namespace plan {
namespace {

constexpr size_t most_things = 256;  // in one task, where no rate bounds it

double in_units(TaskKind kind, int64_t amount) {
  return in_metres(kind) ? in_metres(whole_millimetres(amount)) : static_cast<double>(amount);
}

}  // namespace

ThingKind thing_kind(TaskKind k) {
  switch (k) {
    case TaskKind::dig:
    case TaskKind::reinstate:
      return ThingKind::span;
    case TaskKind::lay:
      return ThingKind::run;
    case TaskKind::chamber:
    case TaskKind::couple:
      return ThingKind::node;
    case TaskKind::cabinet:
    case TaskKind::splice:
      return ThingKind::station;
    case TaskKind::prove:
    case TaskKind::blow:
      return ThingKind::link;
    case TaskKind::test:
    case TaskKind::connect:
      return ThingKind::dwelling;
  }
  return ThingKind::span;
}

bool in_metres(TaskKind k) {
  return k == TaskKind::dig || k == TaskKind::lay || k == TaskKind::blow || k == TaskKind::reinstate;
}

bool splittable(TaskKind k) {
  return k == TaskKind::dig || k == TaskKind::lay || k == TaskKind::chamber || k == TaskKind::cabinet ||
         k == TaskKind::couple || k == TaskKind::reinstate;
}

TaskMaker::TaskMaker(const ScheduleInput& input, const Rates& rates, Schedule& out)
    : in_(input), rates_(rates), out_(out) {}

const Rate* TaskMaker::rate_of(SurfaceId surface) const {
  return rates_.find(kind_,
                     surface.valid() ? std::string_view(in_.demand.surfaces[surface]) : std::string_view());
}

// Of the open task, and of one more piece.
Work TaskMaker::duration_with(const Rate* rate, const TaskPiece* next) const {
  Doing d{in_units(kind_, open_.amount), places_, static_cast<int>(things_.size()), running_};
  if (next != nullptr) {
    d.amount = in_units(kind_, open_.amount + next->amount);
    d.places += next->at == last_place_ ? 0 : 1;
    d.pieces += 1;
    d.running += next->running;
  }
  return rates_.duration_of(rate, d);
}

void TaskMaker::add(TaskKind kind, const std::vector<TaskPiece>& pieces) {
  kind_ = kind;
  first_ = static_cast<uint32_t>(out_.tasks.size());
  const Work limit = minutes(rates_.shift().minutes() / 2);
  const Rate* rate = nullptr;
  for (const TaskPiece& p : pieces) {
    const bool elsewhere = kind == TaskKind::splice && p.at != last_place_;
    const bool other = p.area != open_.area || p.surface != open_.surface || elsewhere;
    if (!things_.empty() && (other || things_.size() >= most_things || duration_with(rate, &p) > limit))
      close();
    if (things_.empty()) {
      rate = rate_of(p.surface);
      open(p);
    } else if (p.at != last_place_) {
      ++places_;
    }
    last_place_ = p.at;
    things_.push_back(p.thing);
    running_ += p.running;
    open_.amount += p.amount;
    open_.duration = duration_with(rate, nullptr);
  }
  close();
}

void TaskMaker::open(const TaskPiece& p) {
  open_ = Task();
  open_.kind = kind_;
  open_.area = p.area;
  open_.surface = p.surface;
  open_.at = p.at;
  places_ = 1;
  running_ = {};
}

void TaskMaker::close() {
  if (things_.empty()) return;
  out_.tasks.add(open_);
  out_.things.add(things_);
  things_.clear();
}

std::vector<TaskId> TaskMaker::task_of(size_t things) const {
  std::vector<TaskId> out(things);
  for (size_t t = out_.tasks.size(); t-- > first_;)
    for (const uint32_t thing : out_.things[TaskId(t)]) out[thing] = TaskId(t);
  return out;
}

}  // namespace plan
