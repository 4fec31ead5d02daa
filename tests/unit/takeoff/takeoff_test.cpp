#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <string>

#include "takeoff/takeoff.h"
#include "unit/takeoff/planned.h"

using namespace plan;

namespace {

int64_t amount(const Takeoff& t, const std::string& item, int reason = -1) {
  int64_t sum = 0;
  for (const Quantity& q : t.quantities)
    if (t.items[q.item].name == item && (reason < 0 || static_cast<int>(q.reason) == reason)) sum += q.amount;
  return sum;
}
int64_t amount(const Takeoff& t, QuantityReason reason) {
  int64_t sum = 0;
  for (const Quantity& q : t.quantities) sum += q.reason == reason ? q.amount : 0;
  return sum;
}

// A street of eight doors on verge, a crossing in carriageway with two more, an existing duct beside it.
// All invented.
Drawn street() {
  Drawn d;
  d.surface("garden");
  d.street("Mill Lane", {{0, 0}, {200, 0}});
  d.street("Ford", {{200, 0}, {200, 60}}, "paved carriageway");
  d.duct("old duct", {{0, 0}, {200, 0}});
  for (int i = 0; i < 8; ++i) d.premises("Mill Lane " + std::to_string(i + 1), {20.0 + 20 * i, 10});
  d.premises("Ford 1", {210, 40});
  d.premises("Ford 2", {190, 50}).dwellings = 4;
  d.headend("Exchange", {-10, 0}).microduct_entries = 48;
  return d;
}

}  // namespace

TEST_CASE("tails: three drops through two chambers and one trunk through both") {
  // 3 · 2 · 5.5 + 2 · 1.5 = 36.0 m: derived from common practice (5-6 m a drop in each chamber, all equal;
  // 1-1.5 m a trunk).
  Network network;
  for (int64_t x : {0, 100000, 200000, 300000}) {
    network.at.add({x, 0});
    network.kinds.add(NodeKind::street);
  }
  for (uint32_t n = 0; n < 3; ++n) {
    Span s;
    s.from = NodeId(n);
    s.to = NodeId(n + 1);
    s.length = metres(100);
    s.surface = SurfaceId(0U);
    s.route = RouteId(0U);
    network.spans.add(s);
  }
  Demand demand;
  demand.surfaces.add("verge");
  demand.routes.add({});
  DuctCatalogue catalogue;
  Microduct microduct;
  microduct.od = millimetres(7);
  catalogue.microducts.add(microduct);
  for (const char* name : {"1 x 7/3.5 mm bundle", "24 x 7/3.5 mm bundle"}) {
    Bundle b;
    b.name = name;
    b.microduct = MicroductId(0U);
    catalogue.bundles.add(b);
  }
  ChamberType chamber;
  chamber.name = "chamber";
  catalogue.chambers.add(chamber);
  Ducts ducts;
  const std::vector<SpanId> through{SpanId(0U), SpanId(1U), SpanId(2U)};
  for (int i = 0; i < 4; ++i) {
    BundleRun r;
    r.bundle = BundleId(i == 0 ? 1U : 0U);
    r.role = i == 0 ? DuctRole::distribution : DuctRole::drop;
    r.station = StationId(0U);
    r.from = NodeId(0U);
    r.to = NodeId(3U);
    r.length = metres(300);
    ducts.runs.add(r);
    ducts.run_spans.add(through);
  }
  const std::vector<RunId> all{RunId(0U), RunId(1U), RunId(2U), RunId(3U)};
  for (int i = 0; i < 3; ++i) ducts.runs_in_span.add(all);
  for (const uint32_t n : {1U, 2U}) {
    BranchPoint b;
    b.node = NodeId(n);
    b.chamber = ChamberTypeId(0U);
    ducts.branch_points.push_back(b);
  }
  Layout layout;
  Station headend;
  headend.kind = StationKind::branch_point;  // no cabinet here, so that no other tail is counted
  headend.node = NodeId(0U);
  layout.stations.add(headend);
  Fibre fibre;
  fibre.stations.resize(1);
  DuctRules rules;
  rules.tail_in_chamber = metres(1.5);
  rules.drop_tail_in_chamber = metres(5.5);
  const Basis basis;
  const FibreCatalogue cables;
  const LayoutRules layout_rules;
  const Takeoff t = make_takeoff(
      {network, basis, layout, ducts, fibre, demand, catalogue, cables, rules, layout_rules}, {});
  CHECK(amount(t, QuantityReason::tail) == 36000);
  CHECK(amount(t, "24 x 7/3.5 mm bundle", static_cast<int>(QuantityReason::tail)) == 3000);
  CHECK(amount(t, QuantityReason::laid_run) == 4 * 300000);
  CHECK(amount(t, "open verge") == 300000);
  REQUIRE(t.cuts.size() == 4);
  CHECK(t.cuts[0].length == metres(311));
  CHECK(t.cuts[3].length == metres(303));
}

TEST_CASE("every quantity agrees with the placed plan, counted anew") {
  const Planned p(street().demand());
  const Takeoff& t = p.takeoff;
  CHECK(t.findings.empty());
  int64_t opened = 0, blown = 0, laid = 0;
  for (const SpanId s : p.network.spans.ids())
    if (p.layout.used[s] != 0 && p.network.spans[s].kind != SpanKind::existing_duct)
      opened += to_whole_millimetres(p.network.spans[s].length);
  for (const LinkCable& c : p.fibre.cables) blown += to_whole_millimetres(c.duct_length);
  for (const BundleRun& r : p.ducts.runs) laid += to_whole_millimetres(r.length);
  CHECK(amount(t, QuantityReason::blown_link) == blown);
  CHECK(amount(t, QuantityReason::laid_run) == laid);
  CHECK(amount(t, "warning tape") == opened);
  CHECK(amount(t, "open verge") + amount(t, "open garden") + amount(t, "open paved carriageway") == opened);
  CHECK(amount(t, "outlet") == 8 + 1 + 4);
  CHECK(amount(t, "test") == 13);
  int64_t closed = 0, reducing = 0, straight = 0, sealed = 0;
  for (const Joint& j : p.ducts.joints) {
    closed += j.kind == JointKind::end_stop;
    reducing += j.kind == JointKind::reducing;
    straight += j.kind == JointKind::straight;
    sealed += j.kind == JointKind::block_connector;
  }
  CHECK(amount(t, QuantityReason::closed_end) == closed);
  CHECK(amount(t, QuantityReason::reducing_joint) == reducing);
  CHECK(amount(t, QuantityReason::straight_joint) == straight);
  CHECK(amount(t, "block connector") == sealed);
  CHECK(sealed == 2 * 10);
  CHECK(amount(t, "couple") == closed + reducing + straight);
  int64_t splices = 0;
  for (const StationFibre& s : p.fibre.stations) splices += s.splices;
  for (const int n : p.fibre.premises_splices) splices += n;
  CHECK(amount(t, "splice") == splices);
  CHECK(amount(t, QuantityReason::day_one_split) ==
        std::count_if(p.fibre.splitters.begin(), p.fibre.splitters.end(),
                      [](const Splitter& s) { return s.day_one; }));
}

TEST_CASE("a special crossing is counted once a route and weighed whole, whatever cuts its route") {
  Drawn d = street();
  const CrossingId rail = d.crossing("rail");
  Route& over = d.street("over the line", {{200, 60}, {200, 72}, {200, 90}}, "paved carriageway");
  over.crossing = rail;
  over.drops = false;
  d.street("beside the line", {{200, 72}, {240, 72}});
  d.street("End", {{200, 90}, {300, 90}});
  d.premises("End 1", {240, 95});
  d.premises("beside", {235, 70});
  const Planned p(d.demand());
  CHECK(amount(p.takeoff, "crossing rail") == 1);
  CHECK(amount(p.takeoff, QuantityReason::crossed) == 1);
  Money weighed, ground;  // shipped: 15,000 EUR a crossing, 150 EUR a metre of carriageway (invented)
  int spans = 0;
  for (const SpanId s : p.network.spans.ids())
    if (p.network.spans[s].route == route_named(*p.s.demand, "over the line")) {
      weighed += p.basis.open_cost[s];
      ground +=
          p.s.design_prices->find("open paved carriageway")->price.times_metres(p.network.spans[s].length);
      ++spans;
    }
  CHECK(spans == 2);
  CHECK(weighed.cents - ground.cents == 1500000);
}

TEST_CASE("the cuts of an item add up to its quantities") {
  const Planned p(drawn_grid(6, 6, 90, 3));
  std::map<uint32_t, int64_t> cut, counted;
  for (const Cut& c : p.takeoff.cuts) {
    cut[c.item.value] += to_whole_millimetres(c.length);
    CHECK(c.run.valid() != c.link.valid());
  }
  for (const Quantity& q : p.takeoff.quantities) {
    const ItemKind kind = p.takeoff.items[q.item].kind;
    if (kind == ItemKind::bundle || kind == ItemKind::cable) counted[q.item.value] += q.amount;
    CHECK(q.amount > 0);
    CHECK(q.area.valid());
    CHECK(p.takeoff.area[q.area] == q.area);  // an area is named by the station that heads it
  }
  CHECK(cut == counted);
  CHECK(std::is_sorted(p.takeoff.quantities.begin(), p.takeoff.quantities.end(),
                       [](const Quantity& a, const Quantity& b) {
                         return std::tuple(a.item, a.area, a.reason) < std::tuple(b.item, b.area, b.reason);
                       }));
}

TEST_CASE("a premises on order gets its laid microduct and nothing blown") {
  Drawn d = street();
  Premises& later = d.premises("Mill Lane 9", {180, 30});
  later.connect = Connect::on_order;
  later.laid = DropLaid::to_boundary;
  later.boundary = metres(12);
  const Planned p(d.demand());
  const PremisesId who = premises_named(*p.s.demand, "Mill Lane 9");
  const LinkId link = p.layout.drops[who];
  REQUIRE(link.valid());
  CHECK(p.takeoff.blown[link] == 0);
  CHECK(p.takeoff.proven[link] == 0);
  CHECK(p.takeoff.opened[p.network.drops[who]] == metres(12));
  CHECK(amount(p.takeoff, "boundary point") == 1);
  CHECK(amount(p.takeoff, "outlet") == 13);
  for (const Cut& c : p.takeoff.cuts) CHECK(c.link != link);
}

TEST_CASE("an existing duct is not opened") {
  Drawn d;
  d.surface("garden");
  d.street("Near", {{0, 0}, {50, 0}});
  d.duct("old duct", {{50, 0}, {250, 0}});
  d.street("Far", {{250, 0}, {300, 0}});
  d.premises("A", {280, 10});
  d.headend("Exchange", {0, 0}).microduct_entries = 8;
  const Planned p(d.demand());
  REQUIRE(p.layout.drops[PremisesId(0U)].valid());
  CHECK(amount(p.takeoff, "open verge") == 50000 + 30000);
  CHECK(amount(p.takeoff, "open garden") == 10000);
  CHECK(amount(p.takeoff, QuantityReason::laid_run) == 290000);
}

TEST_CASE("fittings that the catalogue lacks are told once for each size") {
  Scenario s = scenario_around(street().demand());
  DuctCatalogue poorer = *s.duct_catalogue;
  std::erase_if(poorer.fittings,
                [](const Fitting& f) { return f.kind == FittingKind::end_stop && f.od_a == millimetres(7); });
  s.duct_catalogue = Slice<DuctCatalogue>(poorer);
  const Planned p(s);
  const auto told = std::count_if(p.takeoff.findings.begin(), p.takeoff.findings.end(), [](const Finding& f) {
    return f.rule == Rule::fitting_missing && f.actual == 7 && f.limit == 7;
  });
  CHECK(told == 1);
  CHECK(p.takeoff.findings.size() == 1);
  CHECK(amount(p.takeoff, "7 mm end stop") == 0);
  CHECK(p.takeoff.joint_items.size() == p.ducts.joints.size());
}

TEST_CASE("seals: one round a bundle where the catalogue has it, else one round each microduct") {
  Scenario s = scenario_around(street().demand());
  const Planned plain(s);
  DuctCatalogue richer = *s.duct_catalogue;
  for (const Bundle& b : s.duct_catalogue->bundles)
    if (b.ways > 1) richer.fittings.push_back({b.name + " seal", FittingKind::entry_seal, b.od, b.od});
  s.duct_catalogue = Slice<DuctCatalogue>(richer);
  const Planned wide(s);
  int64_t walls = 0, ways = 0;
  for (const Quantity& q : wide.takeoff.quantities)
    walls += q.reason == QuantityReason::wall_passed ? q.amount : 0;
  for (const Quantity& q : plain.takeoff.quantities)
    ways += q.reason == QuantityReason::wall_passed ? q.amount : 0;
  // Ten drops at doors, and the bundles that leave the headend.
  int64_t leaving = 0, leaving_ways = 0;
  for (const BundleRun& r : plain.ducts.runs)
    if (r.from == plain.layout.stations[StationId(0U)].node) {
      ++leaving;
      leaving_ways += plain.s.duct_catalogue->bundles[r.bundle].ways;
    }
  REQUIRE(leaving > 0);
  CHECK(walls == 10 + leaving);
  CHECK(ways == 10 + leaving_ways);
}

TEST_CASE("the order of the file changes no quantity") {
  const Demand a = street().demand();
  Drawn d;
  d.surface("garden");
  d.surface("verge");
  d.headend("Exchange", {-10, 0}).microduct_entries = 48;
  d.premises("Ford 2", {190, 50}).dwellings = 4;
  d.premises("Ford 1", {210, 40});
  for (int i = 7; i >= 0; --i) d.premises("Mill Lane " + std::to_string(i + 1), {20.0 + 20 * i, 10});
  d.duct("old duct", {{0, 0}, {200, 0}});
  d.street("Ford", {{200, 0}, {200, 60}}, "paved carriageway");
  d.street("Mill Lane", {{0, 0}, {200, 0}});
  const Planned one(a), other(d.demand());
  CHECK(one.takeoff == other.takeoff);
}

TEST_CASE("reasons have words") {
  CHECK(reason_text(QuantityReason::opened_span) == "span opened");
  CHECK(reason_text(QuantityReason::work_done) == "work of the crews");
}
