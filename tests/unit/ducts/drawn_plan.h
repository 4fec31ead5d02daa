// A street map with stations and links, drawn by hand in metres, up to the input of the stage `ducts`.
//
//   DrawnPlan d;
//   NodeId a = d.node(0, 0), b = d.node(100, 0);
//   d.span(a, b);
//   StationId cabinet = d.station(a);
//   LinkId link = d.serve(cabinet, d.premises(b, 100, 8));   // drop from b to the door
//   Ducts ducts = make_ducts(d.input(), {});
//
// The catalogue and the rules are invented for the tests; a route is the way with the fewest spans.
#pragma once
#include <algorithm>
#include <deque>
#include <vector>

#include "ducts/ducts.h"

namespace plan {

struct DrawnPlan {
  Network network;
  Basis basis;
  Layout layout;
  Demand demand;
  DuctCatalogue catalogue;
  FibreCatalogue cables;
  DuctRules rules;
  LayoutRules layout_rules;

  DrawnPlan() {
    const MicroductId small = microduct("7/3.5 mm", 7, 3.5), feeder = microduct("10/8 mm", 10, 8);
    for (int ways : {1, 2, 4, 7, 12, 24}) bundle(ways, small, ways <= 7);
    for (int ways : {1, 2, 4}) bundle(ways, feeder, true);
    unit();
    rules.distribution_microduct = rules.drop_microduct = small;
    rules.feeder_microduct = feeder;
    rules.unit_fill = {0.5, 0.6};
    rules.microcable_fill = {0.65, 0.75};
    rules.pulled_fill = {0.4, 0.5};
    rules.bundle_radius = {{celsius(0), metres(2.5)}, {celsius(10), metres(2)}, {celsius(20), metres(1)}};
    rules.laying_temperature = celsius(10);
    rules.blowing_radius = rules.turn_out_radius = metres(0.3);
    rules.corner = degrees(30);
    rules.corner_radius = metres(2);
    layout_rules.chamber = catalogue.chambers.add({"chamber", 24});
    catalogue.chambers.add({"large chamber", 200});
  }

  MicroductId microduct(const char* name, double od, double id) {
    Microduct m;
    m.name = name;
    m.od = millimetres(od);
    m.id = millimetres(id);
    m.bend_radius = millimetres(10 * od);
    m.rated = bar_gauge(15);
    m.direct_buried = m.in_duct = true;
    return catalogue.microducts.add(m);
  }
  BundleId bundle(int ways, MicroductId m, bool in_duct) {
    Bundle b;
    b.name = std::to_string(ways) + " x " + catalogue.microducts[m].name;
    b.ways = ways;
    b.microduct = m;
    b.od = ways == 1 ? catalogue.microducts[m].od : millimetres(5.0 * ways + 4);
    b.drum = metres(1000);
    b.in_duct = in_duct;
    return catalogue.bundles.add(b);
  }
  // The invented unit: 2 fibres, 1.0 mm.
  CableId unit() {
    Cable c;
    c.name = "2-fibre unit";
    c.od = millimetres(1.0);
    c.mass = grams_per_metre(0.9);
    c.stiffness = newton_square_metres(0.7e-4);
    c.bend_radius = millimetres(50);
    c.push_limit = newtons(1.5);
    return cables.cables.add(c);
  }

  NodeId node(double x, double y, NodeKind kind = NodeKind::street) {
    network.kinds.add(kind);
    return network.at.add({std::llround(x * 1000), std::llround(y * 1000)});
  }
  SpanId span(NodeId a, NodeId b, SpanKind kind = SpanKind::street, std::vector<Point> between = {}) {
    std::vector<Point> line{network.at[a]};
    line.insert(line.end(), between.begin(), between.end());
    line.push_back(network.at[b]);
    Span s;
    s.from = a;
    s.to = b;
    s.length = polyline_length(line);
    s.route = RouteId(0u);
    s.kind = kind;
    network.shapes.add(line);
    return network.spans.add(s);
  }
  SpanId duct(NodeId a, NodeId b, Length bore, double free_share = 1) {
    const SpanId s = span(a, b, SpanKind::existing_duct);
    Route r;
    r.existing_duct = true;
    r.bore = bore;
    r.free_share = free_share;
    network.spans[s].route = demand.routes.add(r);
    return s;
  }
  PremisesId premises(NodeId street, double x, double y) {
    const PremisesId p = demand.premises.add({});
    network.premises_nodes.add(node(x, y, NodeKind::premises));
    network.drops.add(span(street, network.premises_nodes[p], SpanKind::drop));
    PremisesNeed need;
    need.planned = true;
    need.dwellings = need.fibres = 1;
    need.unit = CableId(0u);
    need.microduct = rules.drop_microduct;
    basis.needs.add(need);
    return p;
  }
  PremisesId on_order(NodeId street, double x, double y, DropLaid laid, Length boundary = {}) {
    const PremisesId p = premises(street, x, y);
    demand.premises[p].connect = Connect::on_order;
    demand.premises[p].laid = laid;
    demand.premises[p].boundary = boundary;
    basis.needs[p].reserved = true;
    return p;
  }
  StationId station(NodeId at, StationKind kind = StationKind::cabinet) {
    Station s;
    s.kind = kind;
    s.node = at;
    return layout.stations.add(s);
  }
  LinkId serve(StationId from, PremisesId p) { return add_link({from, {}, p}, network.premises_nodes[p]); }
  LinkId feed(StationId from, StationId to) { return add_link({from, to, {}}, layout.stations[to].node); }
  LinkId add_link(Link link, NodeId end) {
    return add_link(link, fewest_spans(layout.stations[link.from].node, end));
  }
  LinkId add_link(Link link, const std::vector<SpanId>& route) {
    layout.routes.add(route);
    return layout.links.add(link);
  }

  std::vector<SpanId> fewest_spans(NodeId from, NodeId to) const {
    std::vector<SpanId> by(network.at.size());
    std::vector<uint8_t> seen(network.at.size(), 0);
    std::deque<NodeId> queue{from};
    seen[from.value] = 1;
    while (!queue.empty()) {
      const NodeId at = queue.front();
      queue.pop_front();
      for (SpanId s : network.spans.ids()) {
        const Span& span = network.spans[s];
        if (span.from != at && span.to != at) continue;
        const NodeId next = span.from == at ? span.to : span.from;
        if (seen[next.value]) continue;
        seen[next.value] = 1;
        by[next.value] = s;
        queue.push_back(next);
      }
    }
    std::vector<SpanId> route;
    for (NodeId at = to; at != from;) {
      const Span& span = network.spans[by[at.value]];
      route.push_back(by[at.value]);
      at = span.from == at ? span.to : span.from;
    }
    std::reverse(route.begin(), route.end());
    return route;
  }

  // After the last span.
  DuctInput input() {
    if (demand.routes.empty()) demand.routes.add({});
    return {network, basis, layout, demand, catalogue, cables, rules, layout_rules};
  }
};

}  // namespace plan
