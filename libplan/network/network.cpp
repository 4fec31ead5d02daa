#include "network/network.h"

#include <algorithm>
#include <array>
#include <numeric>
#include <set>
#include <tuple>

#include "network/hang.h"
#include "network/heights.h"
#include "network/reach.h"
#include "network/split.h"

namespace plan {
namespace {

constexpr Length shortest_span = whole_millimetres(1);

Table<RouteId, uint8_t> closed_routes(const Demand& demand, const SiteState& site) {
  Table<RouteId, uint8_t> closed(demand.routes.size(), 0);
  for (RouteId r : closed.ids()) {
    const Route& route = demand.routes[r];
    closed[r] = route.forbidden || (route.existing_duct && route.state != DuctState::proven) ||
                std::binary_search(site.blocked_routes.begin(), site.blocked_routes.end(), route.name);
  }
  return closed;
}

// Nodes in their final order: every place of a street, headend or site once, every premises of its own.
struct Nodes {
  std::vector<Point> places;  // sorted, distinct
  std::vector<NodeId> of_place;
  NodeId at(Point p) const {
    const auto found = std::lower_bound(places.begin(), places.end(), p);
    return of_place[static_cast<size_t>(found - places.begin())];
  }
};

std::vector<Point> places_of(const Demand& demand, const Pieces& pieces) {
  std::vector<Point> places = pieces.nodes;
  for (const Headend& h : demand.headends) places.push_back(h.at);
  for (const Site& s : demand.sites) places.push_back(s.at);
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end()), places.end());
  return places;
}

struct NodeKey {
  uint64_t curve;
  Point at;
  PremisesId premises;  // invalid for a place, which comes last of equals
  uint32_t place;
  friend bool operator<(const NodeKey& a, const NodeKey& b) {
    return std::tie(a.curve, a.at, a.premises) < std::tie(b.curve, b.at, b.premises);
  }
};

Nodes number_nodes(const Demand& demand, const Pieces& pieces, Network& n) {
  Nodes nodes{places_of(demand, pieces), {}};
  std::vector<NodeKey> keys;
  keys.reserve(nodes.places.size() + demand.premises.size());
  for (uint32_t i = 0; i < nodes.places.size(); ++i)
    keys.push_back({hilbert(nodes.places[i]), nodes.places[i], {}, i});
  for (PremisesId p : demand.premises.ids()) {
    const Point at = demand.premises[p].at;
    keys.push_back({hilbert(at), at, p, 0});
  }
  std::sort(keys.begin(), keys.end());
  nodes.of_place.resize(nodes.places.size());
  n.premises_nodes.resize(demand.premises.size());
  for (const NodeKey& k : keys) {
    const NodeId id = n.at.add(k.at);
    n.kinds.add(k.premises.valid() ? NodeKind::premises : NodeKind::street);
    (k.premises.valid() ? n.premises_nodes[k.premises] : nodes.of_place[k.place]) = id;
  }
  for (const Site& s : demand.sites) n.site_nodes.add(nodes.at(s.at));
  for (const Headend& h : demand.headends) n.headend_nodes.add(nodes.at(h.at));
  for (NodeId site : n.site_nodes) n.kinds[site] = NodeKind::site;
  for (NodeId headend : n.headend_nodes) n.kinds[headend] = NodeKind::headend;
  return nodes;
}

// Spans as they are found, each with its line and, of a drop, its premises.
class Drafts {
 public:
  void add(Span span, std::span<const Point> line, PremisesId premises = {}) {
    drafts_.push_back({span, premises, points_.size(), line.size()});
    points_.insert(points_.end(), line.begin(), line.end());
  }
  // From the smaller node to the larger; a ring in the direction that reads smaller.
  void add_between(Span span, std::span<const Point> line) {
    std::vector<Point> back(line.rbegin(), line.rend());
    const bool turned = span.from != span.to ? span.to < span.from
                                             : std::lexicographical_compare(back.begin(), back.end(),
                                                                            line.begin(), line.end());
    if (turned) std::swap(span.from, span.to);
    add(span, turned ? std::span<const Point>(back) : line);
  }
  void move_into(Network& n) {
    n.drops.resize(n.premises_nodes.size());
    n.spans.reserve(drafts_.size());
    for (const uint32_t i : in_order(n.at.size())) {
      const Draft& d = drafts_[i];
      const SpanId id = n.spans.add(d.span);
      n.shapes.add(line(d));
      if (d.premises.valid()) n.drops[d.premises] = id;
    }
  }

 private:
  struct Draft {
    Span span;
    PremisesId premises;
    size_t first, count;
  };
  std::span<const Point> line(const Draft& d) const {
    return std::span<const Point>(points_).subspan(d.first, d.count);
  }
  // By their smaller node into one bucket each; what shares a bucket is few.
  std::vector<uint32_t> in_order(size_t nodes) const {
    const auto bucket = [](const Draft& d) { return std::min(d.span.from, d.span.to).value; };
    std::vector<uint32_t> first(nodes + 1, 0), order(drafts_.size());
    for (const Draft& d : drafts_) ++first[bucket(d) + 1];
    std::partial_sum(first.begin(), first.end(), first.begin());
    std::vector<uint32_t> next(first.begin(), first.end() - 1);
    for (uint32_t i = 0; i < drafts_.size(); ++i) order[next[bucket(drafts_[i])]++] = i;
    for (size_t b = 0; b < nodes; ++b)
      std::sort(order.begin() + first[b], order.begin() + first[b + 1],
                [&](uint32_t i, uint32_t j) { return before(drafts_[i], drafts_[j]); });
    return order;
  }
  bool before(const Draft& a, const Draft& b) const {
    const auto key = [](const Span& s) {
      return std::tuple(std::min(s.from, s.to), std::max(s.from, s.to), s.kind, s.route, s.length);
    };
    const auto ka = key(a.span), kb = key(b.span);
    if (ka != kb) return ka < kb;
    const auto la = line(a), lb = line(b);
    return std::lexicographical_compare(la.begin(), la.end(), lb.begin(), lb.end());
  }

  std::vector<Draft> drafts_;
  std::vector<Point> points_;
};

void add_streets(const Demand& demand, const Pieces& pieces, const Table<RouteId, uint8_t>& closed,
                 const Nodes& nodes, Drafts& drafts) {
  for (PieceId p : pieces.routes.ids()) {
    const RouteId r = pieces.routes[p];
    const auto line = pieces.lines[p];
    const Route& route = demand.routes[r];
    const SpanKind kind = route.existing_duct ? SpanKind::existing_duct : SpanKind::street;
    drafts.add_between({nodes.at(line.front()), nodes.at(line.back()), polyline_length(line), route.surface,
                        r, kind, closed[r] != 0},
                       line);
  }
}

// Of the street nodes from what the routes know, of premises, headends and sites from their streets.
void lay_heights(const Demand& demand, const Hangs& hangs, const Nodes& nodes, Network& n) {
  const auto known = known_heights(demand, hangs);
  if (known.empty()) return;
  n.heights.resize(n.at.size(), height_unknown);
  for (const auto& [at, height] : known)
    if (std::binary_search(nodes.places.begin(), nodes.places.end(), at)) n.heights[nodes.at(at)] = height;
  for (const Span& span : n.spans)
    if (span.kind == SpanKind::drop || span.kind == SpanKind::link)
      if (n.heights[span.to] == height_unknown) n.heights[span.to] = n.heights[span.from];
}

// Drops and links.
class Branches {
 public:
  Branches(const Demand& demand, const Nodes& nodes, Drafts& drafts)
      : demand_(demand), nodes_(nodes), drafts_(drafts) {
    for (SurfaceId s : demand.surfaces.ids())
      if (demand.surfaces[s] == "garden") garden_ = s;
  }
  void drop(const Hang& h, PremisesId p, NodeId to) {
    if (h.found) drafts_.add(span(h, to, SpanKind::drop), std::array{h.entry, demand_.premises[p].at}, p);
  }
  // None where the headend or site stands on the street, or another at the same place has one.
  void link(const Hang& h, Point at) {
    if (!h.found || h.entry == at || !linked_.insert(at).second) return;
    drafts_.add(span(h, nodes_.at(at), SpanKind::link), std::array{h.entry, at});
  }

 private:
  Span span(const Hang& h, NodeId to, SpanKind kind) const {
    const SurfaceId surface = garden_.valid() ? garden_ : demand_.routes[h.route].surface;
    return {nodes_.at(h.entry), to, std::max(h.distance, shortest_span), surface, h.route, kind, false};
  }

  const Demand& demand_;
  const Nodes& nodes_;
  Drafts& drafts_;
  SurfaceId garden_;
  std::set<Point> linked_;
};

}  // namespace

Length rise(const Network& n, SpanId s) {
  if (n.heights.empty()) return {};
  const Length from = n.heights[n.spans[s].from], to = n.heights[n.spans[s].to];
  return from == height_unknown || to == height_unknown ? Length() : to - from;
}

Network make_network(const Demand& demand, const SiteState& site, const Run& run) {
  run.tell("network", 0);
  Network n;
  const Table<RouteId, uint8_t> closed = closed_routes(demand, site);
  const Hangs hangs = hang_estate(demand, closed, run);
  run.tell("network", 0.4);
  const Pieces pieces = split_routes(demand, hangs);
  const Nodes nodes = number_nodes(demand, pieces, n);
  Drafts drafts;
  add_streets(demand, pieces, closed, nodes, drafts);
  Branches branches(demand, nodes, drafts);
  for (PremisesId p : demand.premises.ids()) branches.drop(hangs.premises[p], p, n.premises_nodes[p]);
  for (HeadendId h : demand.headends.ids()) branches.link(hangs.headends[h], demand.headends[h].at);
  for (SiteId s : demand.sites.ids()) branches.link(hangs.sites[s], demand.sites[s].at);
  drafts.move_into(n);
  lay_heights(demand, hangs, nodes, n);
  run.tell("network", 0.8);
  n.findings = hangs.findings;
  find_reached(demand, n);
  run.tell("network", 1);
  return n;
}

}  // namespace plan
