#include <fmt/core.h>

#include <vector>

#include "orders/orders.h"
#include "report/names.h"
#include "report/rows.h"
#include "report/writers.h"

namespace plan {
namespace {

double metres_of(int64_t mm) {
  return static_cast<double>(mm) / 1000.0;
}

double in_unit(int64_t value, PriceUnit per, bool in_mm) {
  if (per == PriceUnit::hour) return static_cast<double>(value) / 60.0;
  return in_mm ? metres_of(value) : static_cast<double>(value);
}

std::string_view unit_word(const BillLine& line, const Item& item) {
  if (line.per == PriceUnit::hour) return "h";
  return item.in_metres ? "m" : "piece";
}

// Reasons of each item, in their own order, each once.
Table<ItemId, std::string> reasons_by_item(const Takeoff& takeoff) {
  Table<ItemId, uint32_t> seen(takeoff.items.size(), 0);
  Table<ItemId, std::string> texts(takeoff.items.size());
  for (const Quantity& q : takeoff.quantities) {
    const uint32_t bit = uint32_t{1} << static_cast<uint32_t>(q.reason);
    if (seen[q.item] & bit) continue;
    seen[q.item] |= bit;
    texts[q.item] += (texts[q.item].empty() ? "" : "; ") + std::string(reason_text(q.reason));
  }
  return texts;
}

std::string_view group_word(CostGroup g) {
  return g == CostGroup::civil ? "civil" : g == CostGroup::material ? "material" : "labour";
}

std::string caution_codes(uint16_t mask) {
  std::string codes;
  for (size_t k = 0; k < cautions().size(); ++k)
    if (mask & (1u << k)) codes += (codes.empty() ? "" : " ") + std::string(cautions()[k].code);
  return codes;
}

}  // namespace

void write_bill(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("bill-of-materials.csv"), sink);
  const Takeoff& takeoff = *plan.takeoff;
  const auto reasons = reasons_by_item(takeoff);
  for (const BillLine& line : plan.bill->lines) {
    const Item& item = takeoff.items[line.item];
    rows.text(item.name).text(group_word(line.group)).text(unit_word(line, item));
    rows.number(in_unit(line.needed, line.per, item.in_metres))
        .number(in_unit(line.ordered, line.per, item.in_metres));
    line.packs > 0 ? rows.integer(line.packs) : rows.empty();
    line.priced ? rows.number(static_cast<double>(line.price.ten_thousandths) / 10000.0) : rows.empty();
    line.priced ? rows.money(line.amount) : rows.empty();
    rows.date(line.needed_on).date(line.order_by).text(reasons[line.item]);
    const Price* price = plan.scenario.prices->find(item.name);
    rows.text(price ? std::string_view(price->source) : "").end();
  }
}

void write_drums(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("drums.csv"), sink);
  const Bill& bill = *plan.bill;
  for (const DrumId d : bill.drums.ids()) {
    const Drum& drum = bill.drums[d];
    int number = 0;
    for (const uint32_t cut : bill.drum_cuts[d]) {
      rows.integer(d.value).text(plan.takeoff->items[drum.item].name).length(drum.length).integer(++number);
      rows.length(bill.cuts[cut].in).length(bill.cuts[cut].out);
      rows.id(plan.takeoff->cuts[cut].run).id(plan.takeoff->cuts[cut].link).date(drum.first_use).end();
    }
  }
}

void write_programme(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("programme.csv"), sink);
  const Schedule& schedule = *plan.schedule;
  for (const TaskId t : schedule.tasks.ids()) {
    const Task& task = schedule.tasks[t];
    rows.integer(t.value).text(task_name(task.kind)).id(task.area);
    rows.text(task.surface.valid() ? plan.scenario.demand->surfaces[task.surface] : "").id(task.at);
    rows.number(in_metres(task.kind) ? metres_of(task.amount) : static_cast<double>(task.amount));
    rows.integer(task.duration.minutes());
    rows.text(task.crew.valid() ? plan.scenario.crews->crews[task.crew].name : "");
    rows.integer(task.start.minutes()).integer(task.finish.minutes()).ids(schedule.before[t]).end();
  }
}

void write_work_orders(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("work-orders.csv"), sink);
  const Orders& orders = *plan.orders;
  for (const OrderId o : orders.orders.ids()) {
    const CrewDay& day = plan.schedule->crew_days[o];
    int number = 0;
    for (const Stop& stop : orders.stops[o]) {
      const Task& task = plan.schedule->tasks[stop.task];
      const Point at = stop.node.valid() ? plan.network->at[stop.node] : Point{};
      rows.text(hex16(orders.orders[o].id)).date(day.date).text(plan.scenario.crews->crews[day.crew].name);
      rows.integer(++number).id(stop.task).text(task_name(task.kind)).id(task.area);
      rows.text(stop.route.valid() ? plan.scenario.demand->routes[stop.route].name : "").id(stop.node);
      stop.node.valid() ? rows.number(metres_of(at.x)).number(metres_of(at.y)) : rows.empty().empty();
      rows.number(in_metres(task.kind) ? metres_of(stop.amount) : static_cast<double>(stop.amount));
      rows.integer(stop.from.minutes()).integer(stop.to.minutes()).flag(stop.continued);
      rows.text(caution_codes(stop.cautions)).end();
    }
  }
}

void write_findings(const Plan& plan, const Sink& sink) {
  Rows rows(table_schema("findings.csv"), sink);
  const StationNames stations(plan);
  for (const Finding& f : all_findings(plan)) {
    const RuleText& rule = rule_text(f.rule);
    const NodeId node = subject_node(plan, f.at);
    rows.text(rule.name).text(rule.note ? "note" : "finding").text(subject_name(plan, stations, f.at));
    if (node.valid())
      rows.number(metres_of(plan.network->at[node].x)).number(metres_of(plan.network->at[node].y));
    else
      rows.empty().empty();
    rows.number(f.actual).number(f.limit).text(finding_text(f));
    std::string mend(mend_text(f.mend));
    if (f.mend_amount != 0) mend += fmt::format(" ({})", fixed(f.mend_amount, rule.decimals));
    rows.text(mend).end();
  }
}

}  // namespace plan
