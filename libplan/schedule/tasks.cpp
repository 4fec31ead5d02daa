#include "schedule/tasks.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

class Pieces {
 public:
  explicit Pieces(const ScheduleInput& input, const Rates& rates) : in_(input), rates_(rates) {}

  // Streets in order, each with its surfaces.
  std::vector<TaskPiece> spans() const {
    std::vector<TaskPiece> out;
    for (const SpanId s : in_.takeoff.opened.ids()) {
      const Span& span = in_.network.spans[s];
      const int64_t length = to_whole_millimetres(in_.takeoff.opened[s]);
      if (length > 0) out.push_back({in_.takeoff.span_area[s], span.surface, span.from, s.value, length});
    }
    const auto route = [&](const TaskPiece& p) { return in_.network.spans[SpanId(p.thing)].route; };
    std::sort(out.begin(), out.end(), [&](const TaskPiece& a, const TaskPiece& b) {
      return std::tuple(a.area, a.surface, route(a), a.thing) <
             std::tuple(b.area, b.surface, route(b), b.thing);
    });
    return out;
  }

  std::vector<TaskPiece> runs() const {
    std::vector<TaskPiece> out;
    for (const RunId r : in_.ducts.runs.ids())
      out.push_back({in_.takeoff.run_area[r],
                     {},
                     in_.ducts.runs[r].from,
                     r.value,
                     to_whole_millimetres(in_.ducts.runs[r].length)});
    return by_area(std::move(out));
  }

  std::vector<TaskPiece> chambers() const {
    std::vector<TaskPiece> out;
    const Table<NodeId, StationId> area = node_areas();
    for (const BranchPoint& b : in_.ducts.branch_points)
      if (b.chamber.valid()) out.push_back({area[b.node], {}, b.node, b.node.value, 1});
    return by_area(std::move(out));
  }

  std::vector<TaskPiece> cabinets() const {
    std::vector<TaskPiece> out;
    for (const StationId s : in_.layout.stations.ids()) {
      const Station& station = in_.layout.stations[s];
      if (station.kind == StationKind::cabinet)
        out.push_back({in_.takeoff.area[s], {}, station.node, s.value, 1});
    }
    return by_area(std::move(out));
  }

  std::vector<TaskPiece> joints() const {
    std::vector<TaskPiece> out;
    for (size_t i = 0; i < in_.ducts.joints.size(); ++i) {
      const Joint& j = in_.ducts.joints[i];
      if (j.kind != JointKind::block_connector)
        out.push_back({in_.takeoff.joint_areas[i], {}, j.node, j.node.value, 1});
    }
    return merged(std::move(out));
  }

  std::vector<TaskPiece> proofs() const {
    std::vector<TaskPiece> out;
    for (const LinkId l : in_.layout.links.ids())
      if (in_.takeoff.proven[l] != 0)
        out.push_back(
            {in_.takeoff.link_area[l], {}, in_.layout.stations[in_.layout.links[l].from].node, l.value, 1});
    return by_area(std::move(out));
  }

  std::vector<TaskPiece> blows() const {
    std::vector<TaskPiece> out;
    for (const LinkId l : in_.layout.links.ids())
      if (in_.takeoff.blown[l] != 0)
        out.push_back({in_.takeoff.link_area[l],
                       {},
                       launch(l),
                       l.value,
                       to_whole_millimetres(in_.fibre.cables[l].duct_length),
                       in_.blowing.blows[l].running});
    std::sort(out.begin(), out.end(), [](const TaskPiece& a, const TaskPiece& b) {
      return std::tuple(a.area, a.at, a.thing) < std::tuple(b.area, b.at, b.thing);
    });
    return out;
  }

  // The splices of a station are shared out over the areas of its outgoing links by fibres, so that a
  // headend does not wait for its last feeder; then cut into pieces that fit half a shift.
  std::vector<TaskPiece> splices() const {
    std::vector<TaskPiece> out;
    Table<StationId, int64_t> fibres(in_.layout.stations.size()), seen(in_.layout.stations.size()),
        given(in_.layout.stations.size());
    for (const LinkId l : in_.layout.links.ids())
      fibres[in_.layout.links[l].from] += in_.fibre.cables[l].fibres_used;
    for (const LinkId l : in_.layout.links.ids()) {
      const StationId s = in_.layout.links[l].from;
      if (fibres[s] == 0) continue;
      seen[s] += in_.fibre.cables[l].fibres_used;
      const int64_t until = in_.fibre.stations[s].splices * seen[s] / fibres[s];
      splice_piece(out, s, in_.takeoff.link_area[l], until - given[s]);
      given[s] = until;
    }
    for (const StationId s : in_.layout.stations.ids())
      splice_piece(out, s, in_.takeoff.area[s], in_.fibre.stations[s].splices - given[s]);
    return cut_to_shifts(merged(std::move(out)));
  }

  std::vector<TaskPiece> dwellings(bool at_station) const {
    std::vector<TaskPiece> out;
    for (const DwellingId d : in_.fibre.dwellings.ids()) {
      const Dwelling& dwelling = in_.fibre.dwellings[d];
      if (dwelling.state != LightState::lit || !dwelling.link.valid()) continue;
      const StationId from = in_.layout.links[dwelling.link].from;
      const NodeId at =
          at_station ? in_.layout.stations[from].node : in_.network.premises_nodes[dwelling.premises];
      out.push_back({in_.takeoff.link_area[dwelling.link], {}, at, d.value, 1});
    }
    return by_area(std::move(out));
  }

 private:
  static std::vector<TaskPiece> by_area(std::vector<TaskPiece> pieces) {
    std::sort(pieces.begin(), pieces.end(), [](const TaskPiece& a, const TaskPiece& b) {
      return std::tuple(a.area, a.thing) < std::tuple(b.area, b.thing);
    });
    return pieces;
  }

  // The first area with a run that is joined or ends at the node.
  Table<NodeId, StationId> node_areas() const {
    Table<NodeId, StationId> area(in_.network.at.size());
    const auto lower = [&](NodeId n, RunId r) { area[n] = std::min(area[n], in_.takeoff.run_area[r]); };
    for (const RunId r : in_.ducts.runs.ids()) {
      lower(in_.ducts.runs[r].from, r);
      lower(in_.ducts.runs[r].to, r);
    }
    for (const Joint& j : in_.ducts.joints) lower(j.node, in_.ducts.sections[j.a].run);
    return area;
  }

  NodeId launch(LinkId l) const {
    const Link& link = in_.layout.links[l];
    if (in_.blowing.blows[l].from_station) return in_.layout.stations[link.from].node;
    return link.to.valid() ? in_.layout.stations[link.to].node : in_.network.premises_nodes[link.premises];
  }

  void splice_piece(std::vector<TaskPiece>& out, StationId s, StationId area, int64_t n) const {
    if (n > 0) out.push_back({area, {}, in_.layout.stations[s].node, s.value, n});
  }

  static std::vector<TaskPiece> merged(std::vector<TaskPiece> pieces) {
    pieces = by_area(std::move(pieces));
    size_t n = 0;
    for (const TaskPiece& p : pieces) {
      if (n > 0 && pieces[n - 1].area == p.area && pieces[n - 1].thing == p.thing)
        pieces[n - 1].amount += p.amount;
      else
        pieces[n++] = p;
    }
    pieces.resize(n);
    return pieces;
  }

  std::vector<TaskPiece> cut_to_shifts(const std::vector<TaskPiece>& pieces) const {
    const Rate* rate = rates_.find(TaskKind::splice, {});
    const double fits = rates_.amount_within(rate, minutes(rates_.shift().minutes() / 2));
    const int64_t most = std::max<int64_t>(1, static_cast<int64_t>(fits));
    std::vector<TaskPiece> out;
    for (TaskPiece p : pieces)
      for (int64_t left = p.amount; left > 0; left -= most) {
        p.amount = rate == nullptr ? left : std::min(left, most);
        out.push_back(p);
        if (rate == nullptr) break;
      }
    return out;
  }

  const ScheduleInput& in_;
  const Rates& rates_;
};

}  // namespace

AreaTasks::AreaTasks(const Schedule& s, size_t first_task) {
  for (size_t t = first_task; t < s.tasks.size(); ++t)
    for (const uint32_t thing : s.things[TaskId(t)])
      rows_.emplace_back(thing, s.tasks[TaskId(t)].area, TaskId(t));
  std::sort(rows_.begin(), rows_.end());
}

TaskIndex make_tasks(const ScheduleInput& in, const Rates& rates, Schedule& out) {
  const Pieces pieces(in, rates);
  TaskMaker maker(in, rates, out);
  TaskIndex index;
  const auto add = [&](TaskKind kind, const std::vector<TaskPiece>& list, size_t things) {
    maker.add(kind, list);
    return maker.task_of(things);
  };
  const auto add_by_area = [&](TaskKind kind, const std::vector<TaskPiece>& list) {
    const size_t first = out.tasks.size();
    maker.add(kind, list);
    return AreaTasks(out, first);
  };
  const size_t spans = in.network.spans.size(), nodes = in.network.at.size();
  const size_t links = in.layout.links.size(), dwellings = in.fibre.dwellings.size();
  const std::vector<TaskPiece> opened = pieces.spans();
  index.dig = add(TaskKind::dig, opened, spans);
  index.lay = add(TaskKind::lay, pieces.runs(), in.ducts.runs.size());
  index.chamber = add(TaskKind::chamber, pieces.chambers(), nodes);
  index.cabinet = add(TaskKind::cabinet, pieces.cabinets(), in.layout.stations.size());
  index.couple = add_by_area(TaskKind::couple, pieces.joints());
  index.prove = add(TaskKind::prove, pieces.proofs(), links);
  index.blow = add(TaskKind::blow, pieces.blows(), links);
  index.splice = add_by_area(TaskKind::splice, pieces.splices());
  index.test = add(TaskKind::test, pieces.dwellings(true), dwellings);
  index.reinstate = add(TaskKind::reinstate, opened, spans);
  index.connect = add(TaskKind::connect, pieces.dwellings(false), dwellings);
  return index;
}

}  // namespace plan
