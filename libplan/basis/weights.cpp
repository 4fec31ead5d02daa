#include "basis/weights.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace plan {
namespace {

class Weigher {
 public:
  Weigher(const Scenario& s, const Network& n, Basis& b) : s_(s), n_(n), b_(b) {}

  void prices(const CommonCables& cables) {
    b_.metre_by_ways = by_ways(s_.duct_rules->distribution_microduct, true);
    b_.unit_metre = metre_of_cable(cables.unit);
    const std::vector<UnitPrice> feeder = by_ways(s_.duct_rules->feeder_microduct, false);
    b_.feeder_metre = (feeder.size() > 1 ? feeder[1] : UnitPrice{}) + metre_of_cable(cables.feeder);
    if (b_.cabinet.type.valid())
      b_.cabinet_cost =
          piece(s_.duct_catalogue->cabinets[b_.cabinet.type].name) + piece(task_name(TaskKind::cabinet));
    b_.joint_cost = joint();
  }

  void spans() {
    const Table<SurfaceId, UnitPrice> opening = openings();
    const UnitPrice share = cheapest_way() + b_.unit_metre;
    const UnitPrice drop = drop_metre();
    for (SpanId s : n_.spans.ids()) {
      const Span& span = n_.spans[s];
      const bool opened = span.kind != SpanKind::existing_duct;
      b_.open_cost.add(opened ? opening[span.surface].times_metres(span.length) + crossing(span) : Money{});
      b_.lay_cost.add((span.kind == SpanKind::drop ? drop : share).times_metres(span.length));
    }
  }

 private:
  std::optional<UnitPrice> known(std::string_view item, PriceUnit per) const {
    const Price* p = s_.design_prices->find(item);
    if (!p || p->per != per) return std::nullopt;
    return p->price;
  }
  UnitPrice metre(std::string_view item) const { return known(item, PriceUnit::metre).value_or(UnitPrice{}); }
  Money piece(std::string_view item) const {
    return known(item, PriceUnit::piece).value_or(UnitPrice{}).times_pieces(1);
  }
  UnitPrice laying() const { return metre(task_name(TaskKind::lay)); }
  UnitPrice metre_of_cable(CableId c) const {
    if (!c.valid()) return {};
    return metre(s_.fibre_catalogue->cables[c].name) + metre(task_name(TaskKind::blow));
  }

  // The dearest way of the priced bundles of a microduct.
  UnitPrice dearest_way(MicroductId m) const {
    UnitPrice dearest;
    for (const Bundle& bundle : s_.duct_catalogue->bundles)
      if (const auto p = known(bundle.name, PriceUnit::metre); p && bundle.microduct == m)
        dearest = std::max(dearest, UnitPrice{p->ten_thousandths / std::max(1, bundle.ways)});
    return dearest;
  }
  // [n] = cheapest bundle of the microduct with at least n ways, laid; [0] = 0.
  std::vector<UnitPrice> by_ways(MicroductId m, bool tell) {
    std::vector<std::optional<UnitPrice>> cheapest(1);
    const UnitPrice way = dearest_way(m);
    for (const Bundle& bundle : s_.duct_catalogue->bundles) {
      if (bundle.microduct != m || bundle.ways < 1) continue;
      const auto n = static_cast<size_t>(bundle.ways);
      const UnitPrice p = known(bundle.name, PriceUnit::metre).value_or(way * bundle.ways) + laying();
      if (cheapest.size() <= n) cheapest.resize(n + 1);
      if (!cheapest[n] || p < *cheapest[n]) cheapest[n] = p;
    }
    for (size_t n = cheapest.size() - 1; n-- > 1;)
      if (!cheapest[n] || *cheapest[n + 1] < *cheapest[n]) cheapest[n] = cheapest[n + 1];
    if (cheapest.size() == 1 && tell)
      b_.findings.push_back(
          {.rule = Rule::no_bundle_for_microduct, .actual = 1, .mend = Mend::larger_bundle});
    std::vector<UnitPrice> prices;
    for (const auto& p : cheapest) prices.push_back(p.value_or(UnitPrice{}));
    return prices;
  }
  // The span's share, by length, of what its route's crossing costs.
  Money crossing(const Span& span) const {
    const Route& route = s_.demand->routes[span.route];
    if (!route.crossing.valid() || span.kind != SpanKind::street) return {};
    const int64_t cents = piece(crossing_item(s_.demand->crossings[route.crossing])).cents;
    const double share = in_metres(span.length) / in_metres(polyline_length(route.line));
    return {std::llround(static_cast<double>(cents) * std::min(share, 1.0))};
  }
  // One microduct's share of the bundle in which a way is cheapest.
  UnitPrice cheapest_way() const {
    std::optional<UnitPrice> share;
    for (size_t n = 1; n < b_.metre_by_ways.size(); ++n) {
      const auto ways = static_cast<int64_t>(n);
      const UnitPrice each{(b_.metre_by_ways[n].ten_thousandths + ways / 2) / ways};
      if (!share || each < *share) share = each;
    }
    return share.value_or(UnitPrice{});
  }
  // A drop is a bundle of one way; where none is priced, the bare microduct.
  UnitPrice drop_metre() const {
    const MicroductId m = s_.duct_rules->drop_microduct;
    if (!m.valid()) return b_.unit_metre;
    std::optional<UnitPrice> best;
    for (const Bundle& bundle : s_.duct_catalogue->bundles)
      if (const auto p = known(bundle.name, PriceUnit::metre); p && bundle.microduct == m && bundle.ways == 1)
        best = best ? std::min(*best, *p) : *p;
    return best.value_or(metre(s_.duct_catalogue->microducts[m].name)) + laying() + b_.unit_metre;
  }
  Money joint() const {
    const MicroductId m = s_.duct_rules->distribution_microduct;
    Money cost = piece(task_name(TaskKind::couple));
    if (!m.valid()) return cost;
    const Length od = s_.duct_catalogue->microducts[m].od;
    for (const Fitting& f : s_.duct_catalogue->fittings)
      if (f.kind == FittingKind::straight_connector && f.od_a == od && f.od_b == od)
        return cost + piece(f.name);
    return cost;
  }
  Table<SurfaceId, UnitPrice> openings() {
    std::vector<uint8_t> asked(s_.demand->surfaces.size(), 0);
    for (const Span& span : n_.spans)
      if (span.kind != SpanKind::existing_duct) asked[span.surface.value] = 1;
    Table<SurfaceId, UnitPrice> prices;
    std::vector<SurfaceId> unknown;
    UnitPrice dearest;
    for (SurfaceId i : s_.demand->surfaces.ids()) {
      const auto p = known(opening_item(s_.demand->surfaces[i]), PriceUnit::metre);
      prices.add(p.value_or(UnitPrice{}));
      if (p) dearest = std::max(dearest, *p);
      if (!p) unknown.push_back(i);
    }
    for (SurfaceId i : unknown) {
      prices[i] = dearest;
      if (asked[i.value])
        b_.findings.push_back({.rule = Rule::price_missing, .at = subject(i), .mend = Mend::add_price});
    }
    return prices;
  }

  const Scenario& s_;
  const Network& n_;
  Basis& b_;
};

}  // namespace

void weigh(const Scenario& scenario, const Network& network, const CommonCables& cables, Basis& basis) {
  Weigher weigher(scenario, network, basis);
  weigher.prices(cables);
  weigher.spans();
}

}  // namespace plan
