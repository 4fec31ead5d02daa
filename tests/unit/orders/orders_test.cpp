#include "orders/orders.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "base/text.h"
#include "orders/cautions.h"
#include "unit/orders/ordered.h"

using namespace plan;

namespace {

uint16_t bit(int code) {
  return static_cast<uint16_t>(1U << (code - 1));
}

// Lines of every stop of one kind, over all orders.
std::vector<StopLine> lines_of(const Ordered& p, TaskKind kind) {
  std::vector<StopLine> out;
  for (const OrderId k : p.orders.orders.ids())
    for (const Stop& s : p.orders.stops[k]) {
      if (p.schedule.tasks[s.task].kind != kind || s.continued) continue;
      const std::vector<StopLine> more = expanded_stop(p.orders_input(), s);
      out.insert(out.end(), more.begin(), more.end());
    }
  return out;
}

}  // namespace

TEST_CASE("an order for each crew-day, its stops in the order of the day") {
  const Ordered p(drawn_grid(6, 6, 90, 3));
  REQUIRE(p.orders.orders.size() == p.schedule.crew_days.size());
  std::set<uint64_t> ids;
  for (const OrderId k : p.orders.orders.ids()) {
    ids.insert(p.orders.orders[k].id);
    Work last, worked;
    uint16_t cautions = 0;
    for (const Stop& s : p.orders.stops[k]) {
      CHECK(s.from >= last);
      CHECK(s.node.valid());
      CHECK(s.route.valid());
      last = s.to;
      worked += s.to - s.from;
      cautions = static_cast<uint16_t>(cautions | s.cautions);
    }
    CHECK(worked == p.orders.orders[k].worked);
    CHECK(cautions == p.orders.orders[k].cautions);
    CHECK(p.orders.orders[k].area.valid());
  }
  CHECK(ids.size() == p.orders.orders.size());
}

TEST_CASE("the id of an order hangs on scenario, crew and date alone") {
  const Ordered p(drawn_grid(3, 3, 90, 2));
  const CrewDay& day = p.schedule.crew_days[OrderId(0U)];
  const std::string text = p.s.demand->name + "\n" + p.s.crews->crews[day.crew].name + "\n" + iso(day.date);
  CHECK(p.orders.orders[OrderId(0U)].id == hash64(text));
}

TEST_CASE("loads add up to the take-off of what is loaded") {
  const Ordered p(drawn_grid(6, 6, 90, 3));
  std::map<uint32_t, int64_t> loaded, counted;
  for (const OrderId k : p.orders.loads.ids())
    for (const Load& l : p.orders.loads[k]) loaded[l.item.value] += l.amount;
  for (const Quantity& q : p.takeoff.quantities) {
    const Item& item = p.takeoff.items[q.item];
    const bool joint = q.reason == QuantityReason::straight_joint ||
                       q.reason == QuantityReason::reducing_joint || q.reason == QuantityReason::closed_end ||
                       q.reason == QuantityReason::blown_end;
    const bool carried = item.kind == ItemKind::bundle || item.kind == ItemKind::cable || joint ||
                         item.kind == ItemKind::chamber || q.reason == QuantityReason::area_cabinet ||
                         item.kind == ItemKind::splitter || item.name == "outlet";
    if (carried) counted[q.item.value] += q.amount;
  }
  for (const auto& row : counted) {
    CAPTURE(p.takeoff.items[ItemId(row.first)].name);
    CHECK(loaded[row.first] == row.second);
  }
  CHECK(loaded.size() == counted.size());
}

TEST_CASE("a blow names both ends, drum, pressure and limits") {
  const Ordered p(drawn_grid(5, 5, 90, 3));
  const std::vector<StopLine> blows = lines_of(p, TaskKind::blow);
  size_t wanted = 0;
  for (const LinkId l : p.layout.links.ids()) wanted += p.takeoff.blown[l];
  CHECK(blows.size() == wanted);
  for (const StopLine& l : blows) {
    REQUIRE(l.link.valid());
    const auto path = p.ducts.paths[l.link];
    const Section &first = p.ducts.sections[path.front()], &last = p.ducts.sections[path.back()];
    const bool out = p.blowing.blows[l.link].from_station;
    CHECK(l.a.node == (out ? first.from : last.to));
    CHECK(l.b.node == (out ? last.to : first.from));
    CHECK((out ? l.a : l.b).position == first.position);
    CHECK((out ? l.b : l.a).position == last.position);
    CHECK(l.a.colour != "");
    CHECK(l.b.colour != "");
    CHECK(l.cable == p.fibre.cables[l.link].cable);
    CHECK(l.amount == to_whole_millimetres(p.fibre.cables[l.link].duct_length));
    CHECK(l.pressure == p.blowing.blows[l.link].supply);
    CHECK(l.push_only == p.blowing.blows[l.link].push_only);
    CHECK(l.drum_out - l.drum_in == p.fibre.cables[l.link].length);
    CHECK(p.bill.drums[l.drum].item == p.takeoff.cuts[p.bill.drum_cuts[l.drum][0]].item);
  }
}

TEST_CASE("tests and connections carry fibre and planned loss") {
  const Ordered p(drawn_grid(4, 4, 90, 2));
  for (const TaskKind kind : {TaskKind::test, TaskKind::connect}) {
    const std::vector<StopLine> lines = lines_of(p, kind);
    CHECK(lines.size() == p.s.demand->premises.size());
    for (const StopLine& l : lines) {
      const DwellingId d(l.thing);
      CHECK(l.fibre == p.fibre.dwellings[d].fibre);
      CHECK(l.fibre >= 1);
      CHECK(l.budget == p.optics.ledgers[d].down_max);
      CHECK(l.budget > decibels(10));  // a split of 32 alone loses 15 dB: 10 log10 32
    }
  }
}

TEST_CASE("digging, laying, coupling and making good name every metre and piece once") {
  const Ordered p(drawn_grid(5, 5, 90, 3));
  for (const TaskKind kind : {TaskKind::dig, TaskKind::reinstate, TaskKind::lay, TaskKind::couple,
                              TaskKind::chamber, TaskKind::splice, TaskKind::blow, TaskKind::connect}) {
    int64_t lines = 0, stops = 0;
    for (const StopLine& l : lines_of(p, kind)) lines += l.amount;
    for (const OrderId k : p.orders.orders.ids())
      for (const Stop& s : p.orders.stops[k])
        if (p.schedule.tasks[s.task].kind == kind) stops += s.amount;
    CHECK(lines > 0);
    CHECK(lines == stops);
  }
}

TEST_CASE("cautions go with the task and with the chamber") {
  REQUIRE(cautions().size() == 10);
  for (size_t i = 0; i < cautions().size(); ++i) {
    CHECK(cautions()[i].code == "C" + std::to_string(i + 1));
    CHECK(cautions()[i].line.size() > 40);
    CHECK(cautions()[i].basis != "");
  }
  CHECK((caution_mask(TaskKind::blow, false) & bit(1)) != 0);  // compressed air
  CHECK((caution_mask(TaskKind::prove, false) & bit(1)) != 0);
  CHECK((caution_mask(TaskKind::splice, false) & bit(2)) != 0);  // light
  CHECK((caution_mask(TaskKind::test, false) & bit(2)) != 0);
  CHECK((caution_mask(TaskKind::splice, false) & bit(3)) != 0);  // glass
  CHECK((caution_mask(TaskKind::couple, true) & bit(4)) != 0);   // chamber
  CHECK((caution_mask(TaskKind::couple, false) & bit(4)) == 0);
  CHECK((caution_mask(TaskKind::dig, false) & bit(5)) != 0);       // buried services
  CHECK((caution_mask(TaskKind::dig, false) & bit(7)) != 0);       // street
  CHECK((caution_mask(TaskKind::connect, false) & bit(10)) != 0);  // gas
  CHECK(caution_footer().find("Planning aid") != std::string_view::npos);
  const Ordered p(drawn_grid(5, 5, 90, 3));
  std::set<uint32_t> chambers;
  for (const BranchPoint& b : p.ducts.branch_points)
    if (b.chamber.valid()) chambers.insert(b.node.value);
  REQUIRE_FALSE(chambers.empty());
  for (const OrderId k : p.orders.orders.ids())
    for (const Stop& s : p.orders.stops[k]) {
      if (p.schedule.tasks[s.task].kind != TaskKind::couple) continue;
      const auto things = p.schedule.things[s.task];
      const bool any =
          std::any_of(things.begin(), things.end(), [&](uint32_t n) { return chambers.count(n) > 0; });
      CHECK(((s.cautions & bit(4)) != 0) == any);
    }
}
