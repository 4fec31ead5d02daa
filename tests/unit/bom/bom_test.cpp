#include "bom/bom.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <string>

#include "unit/bom/billed.h"

using namespace plan;

namespace {

// A take-off and a programme made by hand, line by line.
struct HandMade {
  Takeoff takeoff;
  Schedule schedule;
  Prices prices;
  Stock stock;
  StationId area{0U};

  HandMade() {
    takeoff.area.add(area);
    schedule.start = schedule.finish = date_of(2027, 3, 1);
    prices.currency = "SEK";
  }
  ItemId item(Item i, int64_t amount, QuantityReason reason, double price, PriceUnit per) {
    Price p;
    p.item = i.name;
    p.price.ten_thousandths = std::llround(price * 10000);
    p.per = per;
    p.source = "published bill";
    prices.list.push_back(p);
    std::sort(prices.list.begin(), prices.list.end(),
              [](const Price& a, const Price& b) { return a.item < b.item; });
    const ItemId id = takeoff.items.add(std::move(i));
    takeoff.quantities.push_back({id, area, reason, amount, 1});
    return id;
  }
  ItemId opening(const std::string& name, int64_t metres_, double price) {
    return item({name, ItemKind::opening, true, 0, {}}, metres_ * 1000, QuantityReason::opened_span, price,
                PriceUnit::metre);
  }
  ItemId pieces(const std::string& name, ItemKind kind, int64_t n, double price) {
    return item({name, kind, false, 0, {}}, n, QuantityReason::work_done, price, PriceUnit::piece);
  }
  // Cut into lengths that fill their drums.
  void on_drums(const std::string& name, ItemKind kind, int64_t metres_, double price) {
    const int64_t drum = metres_ / 10;
    const ItemId id = item({name, kind, true, 0, metres(static_cast<double>(drum))}, metres_ * 1000,
                           kind == ItemKind::bundle ? QuantityReason::laid_run : QuantityReason::blown_link,
                           price, PriceUnit::metre);
    for (int i = 0; i < 20; ++i) {
      const Length half = metres(static_cast<double>(drum) / 2);
      if (kind == ItemKind::bundle)
        takeoff.cuts.push_back({id, half, takeoff.run_area.add(area), {}});
      else
        takeoff.cuts.push_back({id, half, {}, takeoff.link_area.add(area)});
    }
  }
  Bill bill() const { return make_bill({takeoff, schedule, prices, stock}, {}); }
};

const BillLine& line(const Bill& b, const Takeoff& t, const std::string& name) {
  for (const BillLine& l : b.lines)
    if (t.items[l.item].name == name) return l;
  REQUIRE_MESSAGE(false, name);
  return b.lines.front();
}

Drawn lane() {
  Drawn d;
  d.street("Mill Lane", {{0, 0}, {200, 0}});
  for (int i = 0; i < 9; ++i) d.premises(std::to_string(i + 1), {15.0 + 20 * i, 10});
  d.headend("Exchange", {0, 5}).microduct_entries = 16;
  return d;
}

}  // namespace

TEST_CASE("a published village bill comes out to the crown") {
  // Bill of a Swedish village association, 77 of 100 connected (trade press): 2,400,075 SEK.
  HandMade h;
  h.opening("dig", 12700, 55);
  h.opening("plough", 9525, 35);
  h.pieces("road crossing", ItemKind::chamber, 10, 10000);
  h.pieces("chambers and joints", ItemKind::chamber, 15, 5900);
  h.on_drums("16/12 mm duct", ItemKind::bundle, 60000, 4);
  h.on_drums("48-fibre cable", ItemKind::cable, 5000, 16);
  h.on_drums("24-fibre cable", ItemKind::cable, 2500, 10.5);
  h.on_drums("12-fibre cable", ItemKind::cable, 5400, 8);
  h.on_drums("2-fibre cable", ItemKind::cable, 32000, 5);
  h.pieces("home switch", ItemKind::splitter, 77, 1000);
  h.item({"blow", ItemKind::work, true, static_cast<uint32_t>(TaskKind::blow), {}}, 45000 * 1000,
         QuantityReason::work_done, 2, PriceUnit::metre);
  h.item({"splice", ItemKind::work, false, static_cast<uint32_t>(TaskKind::splice), {}}, 4000,
         QuantityReason::work_done, 351, PriceUnit::hour);
  h.pieces("restoration", ItemKind::chamber, 1, 200000);
  Task splicing;
  splicing.kind = TaskKind::splice;
  splicing.area = h.area;
  splicing.duration = hours(750);
  h.schedule.tasks.add(splicing);
  h.schedule.things.add({});
  const Bill b = h.bill();
  CHECK(b.findings.empty());
  CHECK(b.total == Money{240007500});
  CHECK(b.left_over == Money{0});
  CHECK(line(b, h.takeoff, "splice").amount == Money{26325000});
  CHECK(line(b, h.takeoff, "dig").amount == Money{69850000});
  CHECK(line(b, h.takeoff, "24-fibre cable").packs == 10);
  // Shares of the same bill: derived from it. Dig, plough and crossings, and with restoration.
  const auto share = [&](int64_t cents) { return 100.0 * static_cast<double>(cents) / 240007500; };
  const int64_t ground = b.civil.cents + line(b, h.takeoff, "road crossing").amount.cents;
  CHECK(share(ground) == doctest::Approx(47.16).epsilon(0.0002));
  CHECK(share(ground + 20000000) == doctest::Approx(55.49).epsilon(0.0002));
  CHECK(share(b.labour.cents) == doctest::Approx(14.72).epsilon(0.0005));
}

TEST_CASE("drums: no cut twice, none past the end, whole drums ordered") {
  const Billed p(drawn_grid(7, 7, 90, 3));
  const Bill& b = p.bill;
  REQUIRE(b.cuts.size() == p.takeoff.cuts.size());
  std::map<uint32_t, int64_t> drums, ordered, needed;
  size_t seen = 0;
  for (const DrumId d : b.drums.ids()) {
    Length at;
    for (const uint32_t c : b.drum_cuts[d]) {
      CHECK(b.cuts[c].drum == d);
      CHECK(b.cuts[c].in == at);
      CHECK(b.cuts[c].out - b.cuts[c].in == p.takeoff.cuts[c].length);
      CHECK(p.takeoff.cuts[c].item == b.drums[d].item);
      at = b.cuts[c].out;
      ++seen;
    }
    CHECK(at == b.drums[d].used);
    CHECK(at <= b.drums[d].length);
    ++drums[b.drums[d].item.value];
    ordered[b.drums[d].item.value] += to_whole_millimetres(b.drums[d].length);
    needed[b.drums[d].item.value] += to_whole_millimetres(b.drums[d].used);
  }
  CHECK(seen == p.takeoff.cuts.size());
  for (const BillLine& l : b.lines) {
    if (p.takeoff.items[l.item].drum == Length()) continue;
    CHECK(l.packs == drums[l.item.value]);
    CHECK(l.ordered == ordered[l.item.value]);
    CHECK(l.needed == needed[l.item.value]);
    CHECK(l.packs >= b.drums_bound[l.item]);
    CHECK(b.drums_bound[l.item] >= 1);
  }
}

TEST_CASE("the cuts of a drum are in the order of use") {
  const Billed p(drawn_grid(7, 7, 90, 3));
  std::map<uint32_t, Work> start;
  for (const TaskId t : p.schedule.tasks.ids())
    if (p.schedule.tasks[t].kind == TaskKind::lay)
      for (const uint32_t run : p.schedule.things[t]) start[run] = p.schedule.tasks[t].start;
  int compared = 0;
  for (const DrumId d : p.bill.drums.ids()) {
    const auto cuts = p.bill.drum_cuts[d];
    for (size_t i = 1; i < cuts.size(); ++i) {
      const Cut &a = p.takeoff.cuts[cuts[i - 1]], &b = p.takeoff.cuts[cuts[i]];
      if (!a.run.valid()) continue;
      CHECK(start[a.run.value] <= start[b.run.value]);
      ++compared;
    }
  }
  CHECK(compared > 50);
}

TEST_CASE("pieces go up to whole packs, the need stays as counted") {
  const Billed p(lane().demand());
  const BillLine& l = line(p.bill, p.takeoff, "7 mm end stop");
  const Price* price = p.s.prices->find("7 mm end stop");
  REQUIRE(price->pack > 1);
  CHECK(l.ordered % price->pack == 0);
  CHECK(l.ordered >= l.needed);
  CHECK(l.ordered - l.needed < price->pack);
  CHECK(l.packs * price->pack == l.ordered);
  CHECK(l.amount == price->price.times_pieces(l.ordered));
}

TEST_CASE("totals are the sums of their lines") {
  const Billed p(lane().demand());
  std::map<CostGroup, Money> sums;
  for (const BillLine& l : p.bill.lines) {
    CHECK(l.priced);
    sums[l.group] += l.amount;
  }
  CHECK(sums[CostGroup::civil] == p.bill.civil);
  CHECK(sums[CostGroup::material] == p.bill.material);
  CHECK(sums[CostGroup::labour] == p.bill.labour);
  CHECK(p.bill.civil + p.bill.material + p.bill.labour == p.bill.total);
  CHECK(p.bill.left_over <= p.bill.material);
  // Opening is charged as the layout weighed it.
  CHECK(p.bill.civil == p.layout.trench_cost);
}

TEST_CASE("an item without a price, or with one in the wrong unit, is a finding and no cost") {
  Scenario s = scenario_around(lane().demand());
  Prices prices = *s.prices;
  std::erase_if(prices.list, [](const Price& q) { return q.item == "outlet"; });
  for (Price& q : prices.list)
    if (q.item == "block connector") q.per = PriceUnit::metre;
  s.prices = Slice<Prices>(prices);
  const Billed p(s);
  CHECK(p.bill.findings.size() == 2);
  for (const Finding& f : p.bill.findings) CHECK(f.rule == Rule::price_missing);
  CHECK_FALSE(rule_text(Rule::price_missing).note);
  for (const char* name : {"outlet", "block connector"}) {
    CHECK_FALSE(line(p.bill, p.takeoff, name).priced);
    CHECK(line(p.bill, p.takeoff, name).amount == Money{0});
  }
  const Billed whole(lane().demand());
  CHECK(p.bill.total < whole.bill.total);
}

TEST_CASE("needed on the first crew-day that uses it, ordered its lead before") {
  Scenario s = scenario_around(lane().demand());
  Stock stock;
  stock.leads = {{"", 7}, {"1 x 7/3.5 mm bundle", 21}};
  s.stock = Slice<Stock>(stock);
  const Billed p(s);
  Date first_lay{INT32_MAX}, first_connect{INT32_MAX};
  for (const OrderId k : p.schedule.crew_days.ids())
    for (const TaskPart& part : p.schedule.parts[k]) {
      const TaskKind kind = p.schedule.tasks[part.task].kind;
      if (kind == TaskKind::lay) first_lay = std::min(first_lay, p.schedule.crew_days[k].date);
      if (kind == TaskKind::connect) first_connect = std::min(first_connect, p.schedule.crew_days[k].date);
    }
  CHECK(line(p.bill, p.takeoff, "1 x 7/3.5 mm bundle").needed_on == first_lay);
  CHECK(first_lay - line(p.bill, p.takeoff, "1 x 7/3.5 mm bundle").order_by == 21);
  CHECK(line(p.bill, p.takeoff, "outlet").needed_on == first_connect);
  CHECK(first_connect - line(p.bill, p.takeoff, "outlet").order_by == 7);
  for (const BillLine& l : p.bill.lines)
    CHECK(l.order_by >= p.s.crews->calendar.start);  // nothing has to be ordered before the start
}

TEST_CASE("call-offs add up to the need of each item") {
  const Billed p(drawn_grid(6, 6, 90, 3));
  std::map<uint32_t, int64_t> called;
  for (const CallOff& c : p.bill.call_offs) called[c.item.value] += c.amount;
  for (const BillLine& l : p.bill.lines)
    if (l.group == CostGroup::material) CHECK(called[l.item.value] == l.needed);
}

TEST_CASE("a length that no drum holds is a finding and gets a drum of its own") {
  HandMade h;
  const ItemId id = h.item({"bundle", ItemKind::bundle, true, 0, metres(100)}, 250000,
                           QuantityReason::laid_run, 1, PriceUnit::metre);
  h.takeoff.cuts = {{id, metres(130), h.takeoff.run_area.add(h.area), {}},
                    {id, metres(60), h.takeoff.run_area.add(h.area), {}},
                    {id, metres(60), h.takeoff.run_area.add(h.area), {}}};
  const Bill b = h.bill();
  REQUIRE(b.findings.size() == 1);
  CHECK(b.findings[0].rule == Rule::cut_longer_than_drum);
  CHECK(b.findings[0].actual == 130);
  CHECK(b.findings[0].limit == 100);
  CHECK(b.findings[0].by == subject(RunId(0U)));
  CHECK(b.drums.size() == 3);
  CHECK(line(b, h.takeoff, "bundle").ordered == 330000);
  CHECK(b.drums_bound[id] == 3);
}
