#include "orders/orders.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "orders/cautions.h"
#include "orders/lines.h"

namespace plan {
namespace {

// Where a thing lies, for the name of the street.
class Streets {
 public:
  explicit Streets(const OrdersInput& input) : in_(input), at_(input.network.at.size()) {
    for (const SpanId s : in_.network.spans.ids()) {
      const Span& span = in_.network.spans[s];
      for (const NodeId n : {span.from, span.to}) at_[n] = std::min(at_[n], span.route);
    }
  }
  RouteId of(const Task& task, uint32_t thing) const {
    if (thing_kind(task.kind) == ThingKind::span) return in_.network.spans[SpanId(thing)].route;
    return task.at.valid() ? at_[task.at] : RouteId();
  }

 private:
  const OrdersInput& in_;
  Table<NodeId, RouteId> at_;
};

class Orderer {
 public:
  explicit Orderer(const OrdersInput& input)
      : in_(input),
        streets_(input),
        chamber_(input.network.at.size()),
        spliced_(input.layout.stations.size()),
        done_(input.schedule.tasks.size()) {
    find_cabinet();
    find_splitters();
    for (const BranchPoint& b : in_.ducts.branch_points) {
      if (!b.chamber.valid()) continue;
      chamber_[b.node] = 1;
      chamber_types_.emplace_back(b.node, b.chamber);
    }
  }

  Orders take(const Run& run) {
    run.tell("orders", 0);
    for (const OrderId k : in_.schedule.crew_days.ids()) add(k);
    run.tell("orders", 1);
    return std::move(out_);
  }

 private:
  void find_cabinet() {
    for (const Quantity& q : in_.takeoff.quantities)
      if (q.reason == QuantityReason::area_cabinet) cabinet_ = q.item;
  }

  void find_splitters() {
    std::vector<std::vector<ItemId>> rows(in_.layout.stations.size());
    for (const Splitter& s : in_.fibre.splitters)
      if (s.day_one && s.type.valid())
        rows[s.station.value].push_back(item_of(in_.takeoff, ItemKind::splitter, s.type.value));
    for (const auto& row : rows) splitters_.add(row);
  }

  void add(OrderId k) {
    const CrewDay& day = in_.schedule.crew_days[k];
    WorkOrder order;
    order.id = hash64(in_.demand.name + '\n' + in_.crews.crews[day.crew].name + '\n' + iso(day.date));
    stops_.clear();
    loads_.clear();
    for (const TaskPart& part : in_.schedule.parts[k]) {
      const Stop stop = stop_of(part);
      if (!order.area.valid()) order.area = in_.schedule.tasks[part.task].area;
      order.cautions = static_cast<uint16_t>(order.cautions | stop.cautions);
      order.worked += part.to - part.from;
      if (!stop.continued) load(part.task);
      stops_.push_back(stop);
    }
    out_.orders.add(order);
    out_.stops.add(stops_);
    merge_loads();
    out_.loads.add(loads_);
  }

  Stop stop_of(const TaskPart& part) {
    const Task& task = in_.schedule.tasks[part.task];
    Stop s;
    s.task = part.task;
    s.node = task.at;
    s.route = streets_.of(task, in_.schedule.things[part.task].front());
    s.amount = part.amount;
    s.from = part.from;
    s.to = part.to;
    s.cautions = caution_mask(task.kind, in_chamber(task, part.task));
    s.continued = done_[part.task] != 0;
    done_[part.task] = 1;
    return s;
  }

  bool in_chamber(const Task& task, TaskId id) const {
    if (thing_kind(task.kind) != ThingKind::node) return task.at.valid() && chamber_[task.at] != 0;
    const auto things = in_.schedule.things[id];
    return task.kind == TaskKind::couple &&
           std::any_of(things.begin(), things.end(), [&](uint32_t n) { return chamber_[NodeId(n)] != 0; });
  }

  // All material of a task is loaded on its first day.
  void load(TaskId task) {
    for (const uint32_t thing : in_.schedule.things[task]) load_thing(in_.schedule.tasks[task], thing);
  }

  void load_thing(const Task& task, uint32_t thing) {
    switch (task.kind) {
      case TaskKind::lay:
        return load_cut(cut_of_run(in_, RunId(thing)));
      case TaskKind::blow:
        return load_blow(LinkId(thing));
      case TaskKind::couple:
        return load_joints(NodeId(thing), task.area);
      case TaskKind::chamber:
        return load_chamber(NodeId(thing));
      case TaskKind::cabinet:
        return loads_.push_back({cabinet_, 1});
      case TaskKind::connect:
        return loads_.push_back(
            {item_of(in_.takeoff, ItemKind::part, static_cast<uint32_t>(NamedPart::outlet)), 1});
      case TaskKind::splice:
        return load_splitters(StationId(thing));
      case TaskKind::dig:
      case TaskKind::prove:
      case TaskKind::test:
      case TaskKind::reinstate:
        return;
    }
  }

  void load_cut(uint32_t cut) {
    if (cut == UINT32_MAX) return;
    const Cut& c = in_.takeoff.cuts[cut];
    loads_.push_back({c.item, to_whole_millimetres(c.length)});
  }

  size_t first_joint(NodeId node, SectionId section) const {
    const auto& joints = in_.ducts.joints;
    const auto at = std::lower_bound(
        joints.begin(), joints.end(), std::pair(node, section),
        [](const Joint& a, const std::pair<NodeId, SectionId>& b) { return std::pair(a.node, a.a) < b; });
    return static_cast<size_t>(at - joints.begin());
  }

  void load_joint(size_t j) {
    if (in_.takeoff.joint_items[j].valid()) loads_.push_back({in_.takeoff.joint_items[j], 1});
  }

  void load_joints(NodeId node, StationId area) {
    const auto& joints = in_.ducts.joints;
    for (size_t j = first_joint(node, SectionId(0U)); j < joints.size() && joints[j].node == node; ++j)
      if (joints[j].kind != JointKind::block_connector && in_.takeoff.joint_areas[j] == area) load_joint(j);
  }

  void load_block_connectors(NodeId node, SectionId section) {
    const auto& joints = in_.ducts.joints;
    for (size_t j = first_joint(node, section);
         j < joints.size() && joints[j].node == node && joints[j].a == section; ++j)
      if (joints[j].kind == JointKind::block_connector) load_joint(j);
  }

  void load_blow(LinkId link) {
    const std::span<const SectionId> path = in_.ducts.paths[link];
    load_cut(cut_of_link(in_, link));
    load_block_connectors(in_.ducts.sections[path.front()].from, path.front());
    load_block_connectors(in_.ducts.sections[path.back()].to, path.back());
  }

  // On the first day that anything is spliced there.
  void load_splitters(StationId station) {
    if (std::exchange(spliced_[station], uint8_t{1}) != 0) return;
    for (const ItemId item : splitters_[station]) loads_.push_back({item, 1});
  }

  void load_chamber(NodeId node) {
    const auto at =
        std::lower_bound(chamber_types_.begin(), chamber_types_.end(), std::pair(node, ChamberTypeId(0U)));
    if (at != chamber_types_.end() && at->first == node)
      loads_.push_back({item_of(in_.takeoff, ItemKind::chamber, at->second.value), 1});
  }

  void merge_loads() {
    std::sort(loads_.begin(), loads_.end(), [](const Load& a, const Load& b) { return a.item < b.item; });
    size_t n = 0;
    for (const Load& l : loads_) {
      if (n > 0 && loads_[n - 1].item == l.item)
        loads_[n - 1].amount += l.amount;
      else
        loads_[n++] = l;
    }
    loads_.resize(n);
  }

  const OrdersInput& in_;
  Orders out_;
  Streets streets_;
  Table<NodeId, uint8_t> chamber_;
  std::vector<std::pair<NodeId, ChamberTypeId>> chamber_types_;  // by node
  ItemId cabinet_;
  Lists<StationId, ItemId> splitters_;
  Table<StationId, uint8_t> spliced_;
  Table<TaskId, uint8_t> done_;
  std::vector<Stop> stops_;
  std::vector<Load> loads_;
};

}  // namespace

Orders make_orders(const OrdersInput& input, const Run& run) {
  return Orderer(input).take(run);
}

}  // namespace plan
