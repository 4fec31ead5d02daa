#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "audit/bill_count.h"
#include "base/date.h"
#include "base/text.h"
#include "model/price.h"

namespace plan {
namespace {

constexpr int64_t thousandth = 1000;  // pieces are printed with three decimals
constexpr double most_exact = 1e18;

class BillChecker {
 public:
  explicit BillChecker(const AuditView& view) : v_(view) {}

  void check() {
    BillQuantities counted = count_bill(v_);
    for (size_t t = 0; t < v_.programme.rows(); ++t)
      minutes_[v_.plan.words[v_.programme["kind"][t]]] += or_zero(v_.programme["minutes"][t]);
    for (size_t row = 0; row < t_.rows(); ++row) {
      check_amount(row);
      check_dates(row);
      check_packs(row);
      const std::string_view item = v_.plan.words[t_["item"][row]];
      const auto at = counted.find({v_.plan.words[t_["group"][row]], std::string(item)});
      if (v_.plan.words[t_["unit"][row]] == "h") {
        needed(row, (minutes_of(item) * thousandth + 30) / 60);
        if (at != counted.end()) at->second = 0;
      } else if (at != counted.end()) {
        needed(row, at->second);
        at->second = 0;
      }
    }
    for (const auto& [name, amount] : counted)
      if (amount != 0 && !v_.found.anywhere("fitting-missing"))
        v_.log.add("bill-line-missing", t_.file(), 0, fmt::format("{} has no line or two", name.second));
    check_fittings();
    check_drummed();
  }

 private:
  void needed(size_t row, int64_t counted) const {
    if (t_["needed"][row] != counted)
      v_.log.add("bill-quantity-differs", t_, row,
                 fmt::format("{} {}, counted {}", v_.plan.words[t_["item"][row]],
                             metres_of_cell(t_["needed"][row]), metres_of_cell(counted)));
  }

  // Exact in cents: price and quantity are printed in full.
  void check_amount(size_t row) const {
    const int64_t price = t_["price"][row], ordered = or_zero(t_["ordered"][row]), amount = t_["amount"][row];
    const std::string item = v_.text(t_["item"][row]), unit = v_.text(t_["unit"][row]);
    const Price* listed = v_.plan.scenario.prices->find(item);
    if ((price == no_cell) != (amount == no_cell) ||
        (price == no_cell && !v_.found.at("price-missing", item)))
      return v_.log.add("bill-amount-differs", t_, row,
                        fmt::format("{} has no price and no finding says so", item));
    if (price == no_cell) return;
    if (listed == nullptr || listed->price.ten_thousandths != price)
      v_.log.add("price-differs", t_, row,
                 fmt::format("{} is not the price of {} in the scenario",
                             fixed(static_cast<double>(price) / 10000, 4), item));
    const double rough =
        static_cast<double>(price) * static_cast<double>(std::max(ordered, minutes_of(item)));
    if (std::abs(rough) > most_exact)
      return v_.log.add("bill-amount-differs", t_, row,
                        fmt::format("{} costs more than can be counted", item));
    const UnitPrice each{price};
    const int64_t expected = unit == "m"   ? each.times_metres(whole_millimetres(ordered)).cents
                             : unit == "h" ? (price * minutes_of(item) + 3000) / 6000
                                           : each.times_pieces(ordered / thousandth).cents;
    if (amount != expected)
      v_.log.add("bill-amount-differs", t_, row,
                 fmt::format("{} costs {}, price times quantity is {}", item, plan::amount({amount}),
                             plan::amount({expected})));
  }

  // Of the programme; the hours of the bill are a rounded print of them.
  int64_t minutes_of(std::string_view task) const {
    const auto at = minutes_.find(task);
    return at == minutes_.end() ? 0 : at->second;
  }

  void check_dates(size_t row) const {
    const std::string_view item = v_.plan.words[t_["item"][row]];
    const bool waited = v_.plan.words[t_["group"][row]] == "material" || item.starts_with(crossing_item(""));
    const int lead = waited ? v_.plan.scenario.stock->days_of(v_.plan.words[t_["item"][row]]) : 0;
    const int64_t needed_on = t_["needed on"][row], order_by = t_["order by"][row];
    if (needed_on == no_cell || order_by != needed_on - lead)
      v_.log.add("order-date-differs", t_, row,
                 fmt::format("{} has a lead of {} days", v_.plan.words[t_["item"][row]], lead));
  }

  void check_packs(size_t row) const {
    const int64_t ordered = t_["ordered"][row], need = t_["needed"][row], packs = t_["packs"][row];
    const std::string item = v_.text(t_["item"][row]);
    const auto differs = [&](int64_t expected) {
      if (ordered != expected)
        v_.log.add("ordered-differs", t_, row,
                   fmt::format("{} {} ordered, {} are needed in whole packs", metres_of_cell(ordered), item,
                               metres_of_cell(expected)));
    };
    if (need == no_cell || need <= 0) return differs(1);
    if (v_.plan.words[t_["group"][row]] != "material") return differs(need);
    if (v_.bundle(t_["item"][row]) != nullptr || v_.cable(t_["item"][row]) != nullptr) return;
    if (v_.plan.words[t_["unit"][row]] == "m") return differs(need);
    const Price* listed = v_.plan.scenario.prices->find(item);
    const int64_t pack = listed == nullptr ? 1 : std::max(1, listed->pack);
    const int64_t expected = packs_for(need / thousandth, pack);
    if (packs != expected)
      v_.log.add("ordered-differs", t_, row,
                 fmt::format("{} packs of {}, {} are needed", cell_text(packs), item, expected));
    differs(expected * pack * thousandth);
  }

  // Whatever its size, each joint and end has one fitting of its kind.
  void check_fittings() const {
    std::map<FittingKind, int64_t> billed, placed;
    std::map<std::string_view, FittingKind> kinds;
    for (const Fitting& f : v_.plan.scenario.duct_catalogue->fittings)
      kinds[f.name] = f.kind == FittingKind::reducing_connector ? FittingKind::straight_connector : f.kind;
    for (size_t row = 0; row < t_.rows(); ++row)
      if (const auto at = kinds.find(v_.plan.words[t_["item"][row]]); at != kinds.end())
        billed[at->second] += or_zero(t_["needed"][row]);
    const int64_t stop = v_.word("end stop"), block = v_.word("block connector");
    for (size_t j = 0; j < v_.joints.rows(); ++j) {
      const int64_t kind = v_.joints["kind"][j];
      placed[kind == stop    ? FittingKind::end_stop
             : kind == block ? FittingKind::block_connector
                             : FittingKind::straight_connector] += thousandth;
    }
    if (v_.found.anywhere("fitting-missing")) return;
    for (const FittingKind kind :
         {FittingKind::straight_connector, FittingKind::end_stop, FittingKind::block_connector})
      if (billed[kind] != placed[kind])
        v_.log.add("bill-quantity-differs", t_.file(), 0,
                   fmt::format("{} fittings are billed for {} joints of their kind",
                               billed[kind] / thousandth, placed[kind] / thousandth));
  }

  // Drums are ordered whole: as many, and as long, as are cut.
  void check_drummed() const {
    const WrittenTable& drums = v_.plan["drums.csv"];
    std::map<int64_t, std::pair<int64_t, int64_t>> cut;  // item -> drums, millimetres
    each_group(drums["drum"], [&](int64_t, std::span<const uint32_t> rows) {
      auto& [count, length] = cut[drums["item"][rows.front()]];
      ++count;
      length += or_zero(drums["length"][rows.front()]);
    });
    for (size_t row = 0; row < t_.rows(); ++row) {
      const auto at = cut.find(t_["item"][row]);
      if (at == cut.end()) continue;
      if (t_["packs"][row] != at->second.first || t_["ordered"][row] != at->second.second)
        v_.log.add("ordered-differs", t_, row,
                   fmt::format("{} drums, {} m of {}; {} drums, {} m are cut", cell_text(t_["packs"][row]),
                               metres_of_cell(t_["ordered"][row]), v_.plan.words[at->first], at->second.first,
                               metres_of_cell(at->second.second)));
    }
  }

  const AuditView& v_;
  const WrittenTable& t_ = v_.plan["bill-of-materials.csv"];
  std::map<std::string_view, int64_t> minutes_;  // by kind of task
};

}  // namespace

void check_bill(const AuditView& view) {
  BillChecker(view).check();
}

}  // namespace plan
