#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "takeoff/counting.h"

namespace plan {
namespace {

// What stands at a node, as far as tails and seals ask.
struct NodeFacts {
  bool chamber = false, station = false, premises = false, entered = false;
};

class DuctCounter {
 public:
  explicit DuctCounter(Counting& c)
      : c_(c), in_(c.in), nodes_(c.in.network.at.size()), node_area_(c.in.network.at.size()) {
    for (const BranchPoint& b : in_.ducts.branch_points) nodes_[b.node].chamber = b.chamber.valid();
    for (const Station& s : in_.layout.stations)
      if (s.kind != StationKind::branch_point) nodes_[s.node].station = true;
    for (const PremisesId p : in_.network.premises_nodes.ids())
      if (const NodeId n = in_.network.premises_nodes[p]; n.valid()) {
        nodes_[n].premises = true;
        nodes_[n].entered = laid_now(in_, p) == DropLaid::to_door;
      }
    for (const RunId r : in_.ducts.runs.ids())
      for (const NodeId n : {in_.ducts.runs[r].from, in_.ducts.runs[r].to})
        node_area_[n] = std::min(node_area_[n], c.out.run_area[r]);
    for (const Joint& j : in_.ducts.joints)
      node_area_[j.node] = std::min(node_area_[j.node], c.out.run_area[in_.ducts.sections[j.a].run]);
  }

  void openings() {
    for (const SpanId s : c_.out.opened.ids()) {
      const int64_t length = to_whole_millimetres(c_.out.opened[s]);
      const StationId area = c_.out.span_area[s];
      const ItemId open = c_.book.of(ItemKind::opening, in_.network.spans[s].surface.value);
      c_.sums.add(open, area, QuantityReason::opened_span, length);
      c_.sums.add(c_.book.part(NamedPart::warning_tape), area, QuantityReason::opened_span, length);
    }
  }

  // Each crossing once, in the area of its first opened span.
  void crossings() {
    std::vector<uint8_t> counted(in_.demand.routes.size(), 0);
    for (const SpanId s : c_.out.opened.ids()) {
      const Span& span = in_.network.spans[s];
      if (c_.out.opened[s] == Length() || span.kind != SpanKind::street) continue;
      const CrossingId crossing = in_.demand.routes[span.route].crossing;
      if (!crossing.valid() || std::exchange(counted[span.route.value], 1)) continue;
      c_.sums.add(c_.book.of(ItemKind::crossing, crossing.value), c_.out.span_area[s],
                  QuantityReason::crossed, 1);
    }
  }

  void runs() {
    for (const RunId r : in_.ducts.runs.ids()) {
      const BundleRun& run = in_.ducts.runs[r];
      const StationId area = c_.out.run_area[r];
      const ItemId item = c_.book.of(ItemKind::bundle, run.bundle.value);
      const Length tail = tails(r);
      const int64_t nominal = to_whole_millimetres(run.length);
      c_.sums.add(item, area, QuantityReason::laid_run, nominal);
      c_.sums.add(item, area, QuantityReason::tail, to_whole_millimetres(tail));
      c_.sums.add(c_.book.work(TaskKind::lay), area, QuantityReason::work_done, nominal);
      c_.out.cuts.push_back({item, whole_millimetres(nominal) + tail, r, {}});
      seals(run, area);
    }
  }

  void joints() {
    c_.out.joint_items.reserve(in_.ducts.joints.size());
    c_.out.joint_areas.reserve(in_.ducts.joints.size());
    for (const Joint& j : in_.ducts.joints) {
      const StationId area = joint_area(j);
      const ItemId item = joint_item(j);
      c_.out.joint_items.push_back(item);
      c_.out.joint_areas.push_back(area);
      c_.sums.add(item, area, joint_reason(j.kind), 1);
      if (j.kind != JointKind::block_connector)
        c_.sums.add(c_.book.work(TaskKind::couple), area, QuantityReason::work_done, 1);
    }
  }

  void branch_points() {
    const ItemId closure = c_.book.fitting(FittingKind::branch_closure, {}, {});
    for (const BranchPoint& b : in_.ducts.branch_points) {
      const StationId area = node_area_[b.node];
      if (b.chamber.valid()) {
        c_.sums.add(c_.book.of(ItemKind::chamber, b.chamber.value), area, QuantityReason::branch_chamber, 1);
        c_.sums.add(c_.book.work(TaskKind::chamber), area, QuantityReason::work_done, 1);
        continue;
      }
      if (!closure.valid()) missing(FittingKind::branch_closure, b.node, {});
      c_.sums.add(closure, area, QuantityReason::branch, 1);
    }
  }

 private:
  Length tail_at(const BundleRun& run, NodeId node, bool end) const {
    const DuctRules& rules = in_.duct_rules;
    const NodeFacts& n = nodes_[node];
    if (end && n.premises) return rules.tail_at_premises;
    if (end && n.station) return rules.tail_at_cabinet;
    if (!n.chamber) return {};
    return run.role == DuctRole::drop ? rules.drop_tail_in_chamber : rules.tail_in_chamber;
  }

  // A run leaves a tail in every chamber that it passes or ends in, and where it ends at a cabinet, a
  // headend or a premises.
  Length tails(RunId r) const {
    const BundleRun& run = in_.ducts.runs[r];
    const auto spans = in_.ducts.run_spans[r];
    NodeId at = run.from;
    Length sum = tail_at(run, at, true);
    for (size_t i = 0; i < spans.size(); ++i) {
      const Span& s = in_.network.spans[spans[i]];
      at = s.from == at ? s.to : s.from;
      sum += tail_at(run, at, i + 1 == spans.size());
    }
    return rounded_to_millimetres(sum);
  }

  // One seal round the bundle where the catalogue has it, else one round each microduct.
  void seals(const BundleRun& run, StationId area) {
    int walls = 0;
    for (const NodeId end : {run.from, run.to}) walls += nodes_[end].entered || nodes_[end].station ? 1 : 0;
    if (walls == 0) return;
    const Bundle& b = in_.duct_catalogue.bundles[run.bundle];
    const ItemId whole = fitting(FittingKind::entry_seal, {b.od, b.od});
    if (whole.valid()) return c_.sums.add(whole, area, QuantityReason::wall_passed, walls, walls);
    const Length od = in_.duct_catalogue.microducts[b.microduct].od;
    const ItemId each = fitting(FittingKind::entry_seal, {od, od});
    if (!each.valid()) missing(FittingKind::entry_seal, run.from, {od, od});
    c_.sums.add(each, area, QuantityReason::wall_passed, int64_t{walls} * b.ways, walls);
  }

  StationId joint_area(const Joint& j) const {
    const StationId a = c_.out.run_area[in_.ducts.sections[j.a].run];
    return j.b.valid() ? std::max(a, c_.out.run_area[in_.ducts.sections[j.b].run]) : a;
  }

  static QuantityReason joint_reason(JointKind k) {
    switch (k) {
      case JointKind::straight:
        return QuantityReason::straight_joint;
      case JointKind::reducing:
        return QuantityReason::reducing_joint;
      case JointKind::end_stop:
        return QuantityReason::closed_end;
      case JointKind::block_connector:
        return QuantityReason::blown_end;
    }
    return QuantityReason::straight_joint;
  }

  static FittingKind joint_fitting(JointKind k, bool same_od) {
    switch (k) {
      case JointKind::straight:
        return FittingKind::straight_connector;
      case JointKind::reducing:  // two bores of one OD are joined by a straight connector
        return same_od ? FittingKind::straight_connector : FittingKind::reducing_connector;
      case JointKind::end_stop:
        return FittingKind::end_stop;
      case JointKind::block_connector:
        return FittingKind::block_connector;
    }
    return FittingKind::straight_connector;
  }

  Length od(SectionId s) const {
    const Bundle& b = in_.duct_catalogue.bundles[in_.ducts.runs[in_.ducts.sections[s].run].bundle];
    return in_.duct_catalogue.microducts[b.microduct].od;
  }

  using Ods = std::pair<Length, Length>;

  ItemId joint_item(const Joint& j) {
    const Ods ods{od(j.a), od(j.b.valid() ? j.b : j.a)};
    const FittingKind kind = joint_fitting(j.kind, ods.first == ods.second);
    const ItemId item = fitting(kind, ods);
    if (!item.valid()) missing(kind, j.node, ods);
    return item;
  }

  ItemId fitting(FittingKind kind, Ods ods) {
    const auto [at, added] = fittings_.try_emplace(std::pair(kind, ods));
    if (added) at->second = c_.book.fitting(kind, ods.first, ods.second);
    return at->second;
  }

  // Told once for each kind and size.
  void missing(FittingKind kind, NodeId at, Ods ods) {
    if (!told_.insert({kind, ods}).second) return;
    c_.out.findings.push_back({.rule = Rule::fitting_missing,
                               .at = subject(at),
                               .actual = in_millimetres(ods.first),
                               .limit = in_millimetres(ods.second)});
  }

  Counting& c_;
  const TakeoffInput& in_;
  Table<NodeId, NodeFacts> nodes_;
  Table<NodeId, StationId> node_area_;  // the first area with a run that ends or is joined there
  std::map<std::pair<FittingKind, Ods>, ItemId> fittings_;
  std::set<std::pair<FittingKind, Ods>> told_;
};

}  // namespace

void count_ducts(Counting& counting) {
  DuctCounter counter(counting);
  counter.openings();
  counter.crossings();
  counter.runs();
  counter.joints();
  counter.branch_points();
}

}  // namespace plan
