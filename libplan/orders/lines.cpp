#include "orders/lines.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

uint32_t find_cut(const OrdersInput& in, const Cut& wanted) {
  const auto less = [](const Cut& a, const Cut& b) {
    return std::tuple(a.item, a.run, a.link) < std::tuple(b.item, b.run, b.link);
  };
  const std::vector<Cut>& cuts = in.takeoff.cuts;
  const auto at = std::lower_bound(cuts.begin(), cuts.end(), wanted, less);
  if (at == cuts.end() || less(wanted, *at)) return UINT32_MAX;
  return static_cast<uint32_t>(at - cuts.begin());
}

class Expander {
 public:
  Expander(const OrdersInput& input, const Stop& stop) : in_(input), task_(input.schedule.tasks[stop.task]) {}

  StopLine line(uint32_t thing, TaskId task) const {
    StopLine l;
    l.thing = thing;
    switch (task_.kind) {
      case TaskKind::dig:
      case TaskKind::reinstate:
        l.amount = to_whole_millimetres(in_.takeoff.opened[SpanId(thing)]);
        break;
      case TaskKind::lay:
        lay(RunId(thing), l);
        break;
      case TaskKind::chamber:
      case TaskKind::cabinet:
        l.amount = 1;
        break;
      case TaskKind::couple:
        l.amount = joints_at(NodeId(thing));
        break;
      case TaskKind::splice:
        l.amount = in_.schedule.tasks[task].amount;
        break;
      case TaskKind::prove:
      case TaskKind::blow:
        path(LinkId(thing), l);
        break;
      case TaskKind::test:
      case TaskKind::connect:
        dwelling(DwellingId(thing), l);
        break;
    }
    return l;
  }

 private:
  void drum(uint32_t cut, StopLine& l) const {
    if (cut == UINT32_MAX || !in_.bill.cuts[cut].drum.valid()) return;
    const DrumCut& c = in_.bill.cuts[cut];
    l.drum = c.drum;
    l.drum_in = c.in;
    l.drum_out = c.out;
  }

  void lay(RunId run, StopLine& l) const {
    l.amount = to_whole_millimetres(in_.ducts.runs[run].length);
    l.a.node = in_.ducts.runs[run].from;
    l.b.node = in_.ducts.runs[run].to;
    drum(cut_of_run(in_, run), l);
  }

  int64_t joints_at(NodeId node) const {
    const auto& joints = in_.ducts.joints;
    auto j = std::lower_bound(joints.begin(), joints.end(), node,
                              [](const Joint& a, NodeId n) { return a.node < n; });
    int64_t n = 0;
    for (; j != joints.end() && j->node == node; ++j) {
      const StationId area = in_.takeoff.joint_areas[static_cast<size_t>(j - joints.begin())];
      n += j->kind != JointKind::block_connector && area == task_.area ? 1 : 0;
    }
    return n;
  }

  TubeEnd end_of(SectionId id, bool far) const {
    const Section& s = in_.ducts.sections[id];
    const Bundle& bundle = in_.duct_catalogue.bundles[in_.ducts.runs[s.run].bundle];
    return {far ? s.to : s.from, s.position,
            colour_of(in_.fibre_catalogue.colour_codes, bundle.colour_code, s.position)};
  }

  void ends(LinkId link, StopLine& l) const {
    const std::span<const SectionId> path = in_.ducts.paths[link];
    l.link = link;
    if (path.empty()) return;
    l.a = end_of(path.front(), false);
    l.b = end_of(path.back(), true);
  }

  void path(LinkId link, StopLine& l) const {
    const Blow& blow = in_.blowing.blows[link];
    ends(link, l);
    l.amount = task_.kind == TaskKind::blow ? to_whole_millimetres(in_.fibre.cables[link].duct_length) : 1;
    l.cable = in_.fibre.cables[link].cable;
    l.pressure = blow.supply;
    l.bends = blow.bends;
    l.free_air_litres_per_minute = blow.free_air_litres_per_minute;
    if (task_.kind != TaskKind::blow) return;
    if (!blow.from_station) std::swap(l.a, l.b);
    l.push_only = blow.push_only;
    drum(cut_of_link(in_, link), l);
  }

  void dwelling(DwellingId d, StopLine& l) const {
    const Dwelling& dwelling = in_.fibre.dwellings[d];
    ends(dwelling.link, l);
    l.amount = 1;
    l.cable = in_.fibre.cables[dwelling.link].cable;
    l.fibre = dwelling.fibre;
    l.budget = in_.optics.ledgers[d].down_max;
  }

  const OrdersInput& in_;
  const Task& task_;
};

}  // namespace

ItemId item_of(const Takeoff& takeoff, ItemKind kind, uint32_t index) {
  const auto less = [](const Item& a, const std::pair<ItemKind, uint32_t>& b) {
    return std::pair(a.kind, a.of) < b;
  };
  const std::pair wanted(kind, index);
  const auto at = std::lower_bound(takeoff.items.begin(), takeoff.items.end(), wanted, less);
  PLAN_CHECK(at != takeoff.items.end() && std::pair(at->kind, at->of) == wanted);
  return ItemId(static_cast<size_t>(at - takeoff.items.begin()));
}

uint32_t cut_of_run(const OrdersInput& in, RunId run) {
  return find_cut(in, {item_of(in.takeoff, ItemKind::bundle, in.ducts.runs[run].bundle.value), {}, run, {}});
}

uint32_t cut_of_link(const OrdersInput& in, LinkId link) {
  if (in.takeoff.blown[link] == 0) return UINT32_MAX;
  return find_cut(in,
                  {item_of(in.takeoff, ItemKind::cable, in.fibre.cables[link].cable.value), {}, {}, link});
}

std::vector<StopLine> expanded_stop(const OrdersInput& input, const Stop& stop) {
  const Expander expander(input, stop);
  std::vector<StopLine> out;
  for (const uint32_t thing : input.schedule.things[stop.task])
    out.push_back(expander.line(thing, stop.task));
  return out;
}

}  // namespace plan
