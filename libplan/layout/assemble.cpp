#include "layout/assemble.h"

#include <algorithm>
#include <tuple>

namespace plan {
namespace {

class Assembly {
 public:
  Assembly(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages,
           const ServingDraft& draft)
      : in_(input), forest_(forest), stages_(stages), draft_(draft) {}

  Layout run() {
    list_sites();
    add_headends();
    add_cabinets();
    add_points();
    add_premises();
    set_stages();
    add_links();
    return std::move(out_);
  }

 private:
  struct End {  // a link to be: where it starts, where it ends
    StationId from, to;
    PremisesId premises;
    NodeId node;
  };

  void list_sites() {
    sites_.resize(in_.network.at.size());
    for (SiteId s : in_.network.site_nodes.ids()) {
      const NodeId n = in_.network.site_nodes[s];
      if (n.valid() && !sites_[n].valid()) sites_[n] = s;
    }
  }
  StationId add(StationKind kind, NodeId node, StationId upstream, const StagePlan::At& stages) {
    Station s;
    s.kind = kind;
    s.node = node;
    s.upstream = upstream;
    s.first_stage = stages.first;
    s.stages = stages.count;
    if (upstream.valid()) s.headend = out_.stations[upstream].headend;
    return out_.stations.add(s);
  }

  void add_headends() {
    for (HeadendId h : in_.network.headend_nodes.ids()) {
      const StationId s = add(StationKind::headend, in_.network.headend_nodes[h], {}, stages_.headend);
      out_.stations[s].headend = h;
    }
  }
  StationId headend_at(NodeId n) const { return StationId(forest_.headend[n].value); }

  // Indices of drafted stations by upstream station, node, index.
  template <class T, class Upstream>
  static std::vector<uint32_t> in_order(const std::vector<T>& drafted, const Upstream& upstream) {
    std::vector<uint32_t> order(drafted.size());
    for (uint32_t i = 0; i < order.size(); ++i) order[i] = i;
    std::sort(order.begin(), order.end(), [&](uint32_t x, uint32_t y) {
      return std::tuple(upstream(drafted[x]), drafted[x].node, x) <
             std::tuple(upstream(drafted[y]), drafted[y].node, y);
    });
    return order;
  }

  void add_cabinets() {
    cabinets_.resize(draft_.cabinets.size());
    const auto upstream = [&](const DraftCabinet& c) { return headend_at(c.node); };
    for (uint32_t i : in_order(draft_.cabinets, upstream)) {
      const DraftCabinet& c = draft_.cabinets[i];
      cabinets_[i] = add(StationKind::cabinet, c.node, upstream(c), stages_.cabinet);
      out_.stations[cabinets_[i]].site = sites_[c.node];
      ends_.push_back({upstream(c), cabinets_[i], {}, c.node});
    }
  }

  StationId upstream_of(const DraftPoint& p) const {
    return p.cabinet == no_index ? headend_at(p.node) : cabinets_[p.cabinet];
  }
  // A branch point that would stand in its upstream station is that station.
  void add_points() {
    points_.resize(draft_.points.size());
    for (uint32_t i : in_order(draft_.points, [&](const DraftPoint& p) { return upstream_of(p); })) {
      const DraftPoint& p = draft_.points[i];
      if (!p.served) continue;
      points_[i] = upstream_of(p);
      if (out_.stations[points_[i]].node == p.node) continue;
      points_[i] = add(StationKind::branch_point, p.node, points_[i], stages_.branch_point);
      ends_.push_back({upstream_of(p), points_[i], {}, p.node});
    }
  }

  StationId server_of(PremisesId p) const {
    const PremisesServer& s = draft_.servers[p];
    switch (s.by) {
      case ServedBy::headend:
        return headend_at(in_.network.premises_nodes[p]);
      case ServedBy::cabinet:
        return cabinets_[s.index];
      case ServedBy::branch_point:
        return points_[s.index];
      case ServedBy::nobody:
        break;
    }
    return {};
  }
  void add_premises() {
    std::vector<std::pair<StationId, PremisesId>> served;
    for (PremisesId p : draft_.servers.ids())
      if (server_of(p).valid()) served.emplace_back(server_of(p), p);
    std::sort(served.begin(), served.end());
    for (const auto& [from, p] : served) {
      const NodeId node = in_.network.premises_nodes[p];
      const int dwellings = in_.basis.needs[p].dwellings;
      StationId lights = from;
      if (stages_.building.count > 0 && dwellings > 1) {
        lights = add(StationKind::building, node, from, stages_.building);
        out_.stations[lights].premises = p;
      }
      ++out_.stations[lights].premises_served;
      out_.stations[lights].dwellings_served += dwellings;
      ends_.push_back({from, lights == from ? StationId{} : lights, p, node});
    }
  }

  // A station holds every stage between its own and those of what it serves.
  void set_stages() {
    for (Station& s : out_.stations)
      if (s.premises_served > 0) s.stages = stages_.total - s.first_stage;
    for (const Station& s : out_.stations) {
      if (!s.upstream.valid()) continue;
      Station& up = out_.stations[s.upstream];
      up.stages = std::max(up.stages, s.first_stage - up.first_stage);
    }
  }

  void add_links() {
    std::sort(ends_.begin(), ends_.end(), [&](const End& x, const End& y) {
      return std::tuple(x.from, forest_.position[x.node], x.to, x.premises) <
             std::tuple(y.from, forest_.position[y.node], y.to, y.premises);
    });
    out_.feeds.resize(out_.stations.size());
    out_.drops.resize(draft_.servers.size());
    out_.used.resize(in_.network.spans.size());
    out_.links.reserve(ends_.size());
    for (const End& e : ends_) {
      const LinkId link = out_.links.add({e.from, e.to, e.premises});
      const std::vector<SpanId> route = forest_.path(out_.stations[e.from].node, e.node);
      out_.routes.add(route);
      for (SpanId s : route) out_.used[s] = 1;
      if (e.to.valid()) out_.feeds[e.to] = link;
      if (e.premises.valid()) out_.drops[e.premises] = link;
    }
  }

  const LayoutInput& in_;
  const TrenchForest& forest_;
  const StagePlan& stages_;
  const ServingDraft& draft_;
  Layout out_;
  Table<NodeId, SiteId> sites_;
  std::vector<StationId> cabinets_, points_;  // by draft index
  std::vector<End> ends_;
};

}  // namespace

Layout assemble(const LayoutInput& input, const TrenchForest& forest, const StagePlan& stages,
                const ServingDraft& draft) {
  return Assembly(input, forest, stages, draft).run();
}

}  // namespace plan
