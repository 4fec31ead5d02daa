#include "bom/bom.h"

#include <algorithm>
#include <array>
#include <tuple>

#include "bom/drums.h"
#include "model/price.h"

namespace plan {
namespace {

constexpr size_t task_kinds = static_cast<size_t>(TaskKind::connect) + 1;

TaskKind used_by(NamedPart part) {
  switch (part) {
    case NamedPart::outlet:
    case NamedPart::pigtail:
    case NamedPart::building_point:
      return TaskKind::connect;
    case NamedPart::boundary_point:
    case NamedPart::warning_tape:
      return TaskKind::lay;
    case NamedPart::olt_port:
      return TaskKind::test;
    case NamedPart::splice_tray:
    case NamedPart::splice_protector:
      return TaskKind::splice;
    case NamedPart::microduct_marker:
      return TaskKind::prove;
  }
  return TaskKind::connect;
}

TaskKind used_by(const Item& item, QuantityReason reason) {
  switch (item.kind) {
    case ItemKind::opening:
    case ItemKind::crossing:
      return TaskKind::dig;
    case ItemKind::bundle:
      return TaskKind::lay;
    case ItemKind::cable:
      return TaskKind::blow;
    case ItemKind::chamber:
      return TaskKind::chamber;
    case ItemKind::cabinet:
      return reason == QuantityReason::area_cabinet ? TaskKind::cabinet : TaskKind::splice;
    case ItemKind::splitter:
      return TaskKind::splice;
    case ItemKind::part:
      return used_by(static_cast<NamedPart>(item.of));
    case ItemKind::work:
      return static_cast<TaskKind>(item.of);
    case ItemKind::fitting:
      break;
  }
  if (reason == QuantityReason::blown_end) return TaskKind::blow;
  return reason == QuantityReason::wall_passed ? TaskKind::lay : TaskKind::couple;
}

// The first day on which a kind of task is done in an area, and the minutes of each kind of task.
class Uses {
 public:
  explicit Uses(const Schedule& s) {
    anywhere_.fill(s.start);
    for (const TaskId t : s.tasks.ids())
      minutes_[static_cast<size_t>(s.tasks[t].kind)] += s.tasks[t].duration.minutes();
    for (size_t k = s.crew_days.size(); k-- > 0;)
      for (const TaskPart& p : s.parts[OrderId(k)]) {
        const Task& task = s.tasks[p.task];
        rows_.push_back({Key(task.area, task.kind), s.crew_days[OrderId(k)].date});
        anywhere_[static_cast<size_t>(task.kind)] = s.crew_days[OrderId(k)].date;
      }
    std::sort(rows_.begin(), rows_.end());
    rows_.erase(std::unique(rows_.begin(), rows_.end(),
                            [](const Row& a, const Row& b) { return a.first == b.first; }),
                rows_.end());
  }
  // Where no crew does it in the area, its first day anywhere; where no crew does it at all, the start of
  // the programme.
  Date first(StationId area, TaskKind kind) const {
    const auto at = std::lower_bound(rows_.begin(), rows_.end(), Row{{area, kind}, {INT32_MIN}});
    return at != rows_.end() && at->first == Key{area, kind} ? at->second
                                                             : anywhere_[static_cast<size_t>(kind)];
  }
  int64_t minutes(TaskKind kind) const { return minutes_[static_cast<size_t>(kind)]; }

 private:
  using Key = std::pair<StationId, TaskKind>;
  using Row = std::pair<Key, Date>;
  std::vector<Row> rows_;
  std::array<int64_t, task_kinds> minutes_{};
  std::array<Date, task_kinds> anywhere_;
};

class Biller {
 public:
  explicit Biller(const BillInput& input)
      : in_(input), uses_(input.schedule), drums_(in_.takeoff.items.size()) {}

  Bill take(const Run& run) {
    run.tell("bom", 0);
    plan_drums(in_, uses_of_cuts(in_), bill_);
    for (const Drum& d : bill_.drums) {
      drums_[d.item].length += d.length;
      ++drums_[d.item].pieces;
    }
    const std::vector<Quantity>& q = in_.takeoff.quantities;
    for (size_t first = 0; first < q.size();) {
      size_t last = first;
      while (last < q.size() && q[last].item == q[first].item) ++last;
      add_line(std::span<const Quantity>(q).subspan(first, last - first));
      first = last;
    }
    std::sort(bill_.call_offs.begin(), bill_.call_offs.end(), [](const CallOff& a, const CallOff& b) {
      return std::tuple(a.needed_on, a.item, a.area) < std::tuple(b.needed_on, b.item, b.area);
    });
    bill_.total = bill_.civil + bill_.material + bill_.labour;
    run.tell("bom", 1);
    return std::move(bill_);
  }

 private:
  struct Ordered {
    Length length;
    int64_t pieces = 0;
  };

  static CostGroup group_of(ItemKind k) {
    if (k == ItemKind::opening || k == ItemKind::crossing) return CostGroup::civil;
    return k == ItemKind::work ? CostGroup::labour : CostGroup::material;
  }

  void add_line(std::span<const Quantity> rows) {
    const Item& item = in_.takeoff.items[rows.front().item];
    BillLine line;
    line.item = rows.front().item;
    line.group = group_of(item.kind);
    line.per = item.in_metres ? PriceUnit::metre : PriceUnit::piece;
    line.needed_on = {INT32_MAX};
    for (const Quantity& q : rows) {
      line.needed += q.amount;
      line.needed_on = std::min(line.needed_on, uses_.first(q.area, used_by(item, q.reason)));
    }
    if (item.kind == ItemKind::crossing)  // asked for on day one, it is not granted earlier
      line.needed_on = std::max(line.needed_on, in_.schedule.start + lead(line));
    line.order_by = line.needed_on + -lead(line);
    order(item, line);
    price(item, line);
    if (line.group == CostGroup::material) call_off(item, rows);
    bill_.lines.push_back(line);
  }

  int lead(const BillLine& line) const {
    const ItemKind kind = in_.takeoff.items[line.item].kind;
    if (line.group != CostGroup::material && kind != ItemKind::crossing) return 0;
    return in_.stock.days_of(in_.takeoff.items[line.item].name);
  }

  void order(const Item& item, BillLine& line) {
    const Price* price = in_.prices.find(item.name);
    line.ordered = line.needed;
    if (line.group != CostGroup::material) return;
    if (item.drum > Length()) {
      line.ordered = to_whole_millimetres(drums_[line.item].length);
      line.packs = drums_[line.item].pieces;
    } else if (!item.in_metres) {
      const int64_t pack = price == nullptr ? 1 : std::max(1, price->pack);
      line.packs = packs_for(line.needed, pack);
      line.ordered = line.packs * pack;
    }
  }

  void price(const Item& item, BillLine& line) {
    const Price* price = in_.prices.find(item.name);
    if (price == nullptr || !charge(item, *price, line)) {
      bill_.findings.push_back(
          {.rule = Rule::price_missing, .at = subject(line.item), .mend = Mend::add_price});
      return;
    }
    line.priced = true;
    line.price = price->price;
    group_total(line.group) += line.amount;
    if (line.group == CostGroup::material && item.drum > Length())
      bill_.left_over += price->price.times_metres(whole_millimetres(line.ordered - line.needed));
  }

  // False where the price's unit is not one in which the item can be counted.
  bool charge(const Item& item, const Price& price, BillLine& line) const {
    if (price.per == PriceUnit::hour) {
      if (item.kind != ItemKind::work) return false;
      line.per = PriceUnit::hour;
      line.needed = line.ordered = uses_.minutes(static_cast<TaskKind>(item.of));
      line.amount = {(price.price.ten_thousandths * line.needed + 3000) / 6000};
      return true;
    }
    if ((price.per == PriceUnit::metre) != item.in_metres) return false;
    line.amount = item.in_metres ? price.price.times_metres(whole_millimetres(line.ordered))
                                 : price.price.times_pieces(line.ordered);
    return true;
  }

  Money& group_total(CostGroup g) {
    if (g == CostGroup::civil) return bill_.civil;
    return g == CostGroup::material ? bill_.material : bill_.labour;
  }

  void call_off(const Item& item, std::span<const Quantity> rows) {
    const int days = in_.stock.days_of(item.name);
    for (size_t i = 0; i < rows.size(); ++i) {
      const Date needed = uses_.first(rows[i].area, used_by(item, rows[i].reason));
      if (i > 0 && rows[i].area == rows[i - 1].area) {
        CallOff& c = bill_.call_offs.back();
        c.amount += rows[i].amount;
        c.needed_on = std::min(c.needed_on, needed);
        c.order_by = c.needed_on + -days;
      } else {
        bill_.call_offs.push_back({rows[i].item, rows[i].area, rows[i].amount, needed, needed + -days});
      }
    }
  }

  const BillInput& in_;
  Uses uses_;
  Table<ItemId, Ordered> drums_;
  Bill bill_;
};

}  // namespace

Bill make_bill(const BillInput& input, const Run& run) {
  return Biller(input).take(run);
}

}  // namespace plan
