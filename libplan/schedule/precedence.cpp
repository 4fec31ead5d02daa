#include <algorithm>
#include <tuple>

#include "schedule/tasks.h"

namespace plan {
namespace {

// Dig tasks that touch a node.
class DigsAt {
 public:
  DigsAt(const Network& network, const TaskIndex& index) {
    for (const SpanId s : network.spans.ids())
      if (const TaskId t = index.dig[s.value]; t.valid())
        for (const NodeId n : {network.spans[s].from, network.spans[s].to}) rows_.emplace_back(n, t);
    std::sort(rows_.begin(), rows_.end());
    rows_.erase(std::unique(rows_.begin(), rows_.end()), rows_.end());
  }
  template <class F>
  void each(NodeId node, F&& use) const {
    for (auto it = std::lower_bound(rows_.begin(), rows_.end(), std::pair(node, TaskId(0U)));
         it != rows_.end() && it->first == node; ++it)
      use(it->second);
  }

 private:
  std::vector<std::pair<NodeId, TaskId>> rows_;
};

class Precedence {
 public:
  Precedence(const ScheduleInput& input, const TaskIndex& index, Schedule& out)
      : in_(input), index_(index), out_(out), digs_(input.network, index) {}

  void find() {
    for (const TaskId t : out_.tasks.ids()) {
      row_.clear();
      for (const uint32_t thing : out_.things[t]) before(out_.tasks[t], thing);
      std::sort(row_.begin(), row_.end());
      row_.erase(std::unique(row_.begin(), row_.end()), row_.end());
      out_.before.add(row_);
    }
  }

 private:
  void before(const Task& task, uint32_t thing) {
    switch (task.kind) {
      case TaskKind::dig:
        return;
      case TaskKind::lay:
        return before_laying(RunId(thing));
      case TaskKind::reinstate:
        return before_reinstating(SpanId(thing));
      case TaskKind::chamber:
        return digs_.each(NodeId(thing), [&](TaskId t) { add(t); });
      case TaskKind::cabinet:
        return digs_.each(in_.layout.stations[StationId(thing)].node, [&](TaskId t) { add(t); });
      case TaskKind::couple:
        return before_coupling(NodeId(thing), task.area);
      case TaskKind::prove:
        return before_proving(LinkId(thing));
      case TaskKind::blow:
        return add(index_.prove[thing]);
      case TaskKind::splice:
        return before_splicing(StationId(thing), task.area);
      case TaskKind::test:
        return before_testing(in_.fibre.dwellings[DwellingId(thing)].link);
      case TaskKind::connect:
        return add(index_.test[thing]);
    }
  }

  void add(TaskId t) {
    if (t.valid() && (row_.empty() || row_.back() != t)) row_.push_back(t);
  }

  void before_laying(RunId run) {
    for (const SpanId s : in_.ducts.run_spans[run]) add(index_.dig[s.value]);
  }

  void before_reinstating(SpanId span) {
    add(index_.dig[span.value]);
    for (const RunId r : in_.ducts.runs_in_span[span]) add(index_.lay[r.value]);
  }

  void before_coupling(NodeId node, StationId area) {
    add(index_.chamber[node.value]);
    const auto& joints = in_.ducts.joints;
    auto j = std::lower_bound(joints.begin(), joints.end(), node,
                              [](const Joint& a, NodeId n) { return a.node < n; });
    for (; j != joints.end() && j->node == node; ++j) {
      if (in_.takeoff.joint_areas[static_cast<size_t>(j - joints.begin())] != area) continue;
      for (const SectionId s : {j->a, j->b})
        if (s.valid()) add(index_.lay[in_.ducts.sections[s].run.value]);
    }
  }

  void before_proving(LinkId link) {
    const std::span<const SectionId> path = in_.ducts.paths[link];
    for (size_t i = 0; i < path.size(); ++i) {
      const Section& section = in_.ducts.sections[path[i]];
      add(index_.lay[section.run.value]);
      if (i == 0) continue;
      const StationId area = std::max(in_.takeoff.run_area[in_.ducts.sections[path[i - 1]].run],
                                      in_.takeoff.run_area[section.run]);
      index_.couple.each(section.from.value, area, [&](TaskId t) { add(t); });
    }
    const Link& l = in_.layout.links[link];
    add(index_.cabinet[l.from.value]);
    if (l.to.valid()) add(index_.cabinet[l.to.value]);
  }

  // Every blow of the area that lands here.
  void before_splicing(StationId station, StationId area) {
    const LinkId feed = in_.layout.feeds[station];
    if (feed.valid() && in_.takeoff.area[station] == area) add(index_.blow[feed.value]);
    add(index_.cabinet[station.value]);
    for (const LinkId l : outgoing(station))
      if (in_.takeoff.link_area[l] == area) add(index_.blow[l.value]);
  }

  // The blow of the last link and the splices of every station up to the headend.
  void before_testing(LinkId link) {
    add(index_.blow[link.value]);
    while (link.valid()) {
      const StationId station = in_.layout.links[link].from;
      index_.splice.each(station.value, in_.takeoff.link_area[link], [&](TaskId t) { add(t); });
      link = in_.layout.feeds[station];
    }
  }

  std::span<const LinkId> outgoing(StationId station) {
    if (by_station_.empty()) sort_links();
    const auto [first, last] =
        std::equal_range(by_station_.begin(), by_station_.end(), station, StationOfLink{in_.layout});
    return {first, last};
  }

  struct StationOfLink {
    const Layout& layout;
    bool operator()(LinkId l, StationId s) const { return layout.links[l].from < s; }
    bool operator()(StationId s, LinkId l) const { return s < layout.links[l].from; }
  };

  void sort_links() {
    for (const LinkId l : in_.layout.links.ids()) by_station_.push_back(l);
    std::stable_sort(by_station_.begin(), by_station_.end(),
                     [&](LinkId a, LinkId b) { return in_.layout.links[a].from < in_.layout.links[b].from; });
  }

  const ScheduleInput& in_;
  const TaskIndex& index_;
  Schedule& out_;
  DigsAt digs_;
  std::vector<TaskId> row_;
  std::vector<LinkId> by_station_;
};

}  // namespace

void find_precedence(const ScheduleInput& input, const TaskIndex& index, Schedule& out) {
  Precedence(input, index, out).find();
}

}  // namespace plan
