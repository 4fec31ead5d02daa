#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "audit/checks.h"
#include "base/date.h"

namespace plan {
namespace {

constexpr int64_t longest_search_days = 1'200'000;  // a programme of 150,000 working days, one a week

// Working days by date, counted from the first on or after the start.
class DayCount {
 public:
  explicit DayCount(const Calendar& calendar) : calendar_(calendar) {}
  bool works(Date day) const {
    const auto& days = calendar_.working_days;
    const bool open = days.empty() || std::find(days.begin(), days.end(), weekday(day)) != days.end();
    return open && !std::binary_search(calendar_.holidays.begin(), calendar_.holidays.end(), day);
  }
  // Working days before `day`; dates are asked in any order.
  int64_t before(Date day) {
    const int64_t ahead = day - calendar_.start;
    if (ahead < 0 || ahead > longest_search_days) return no_cell;
    while (static_cast<int64_t>(counts_.size()) <= ahead) {
      const Date last = calendar_.start + (static_cast<int>(counts_.size()) - 1);
      counts_.push_back(counts_.empty() ? 0 : counts_.back() + (works(last) ? 1 : 0));
    }
    return counts_[static_cast<size_t>(ahead)];
  }

 private:
  const Calendar& calendar_;
  std::vector<int64_t> counts_;
};

class OrderChecker {
 public:
  OrderChecker(const AuditView& view, const WrittenTable& orders)
      : v_(view),
        t_(orders),
        days_(v_.plan.scenario.crews->calendar),
        shift_(v_.plan.scenario.crews->calendar.shift.minutes()) {}

  void check() {
    each_group(t_["order"], [&](int64_t, std::span<const uint32_t> rows) { check_order(rows); });
    for (size_t row = 0; row < t_.rows(); ++row) check_day(row);
    std::vector<uint8_t> done(v_.programme.rows(), 0);
    each_group(task_, [&](int64_t task, std::span<const uint32_t> rows) {
      if (task < 0 || task >= static_cast<int64_t>(done.size()))
        return v_.log.add("id-out-of-range", t_, rows.front(),
                          fmt::format("task {} is not in programme.csv", task));
      done[static_cast<size_t>(task)] = 1;
      check_parts(task, rows);
    });
    if (v_.found.anywhere("programme-too-long")) return;  // its last days have no orders
    for (size_t task = 0; task < done.size(); ++task)
      if (done[task] == 0 && v_.programme["crew"][task] != no_cell)
        v_.log.add("task-not-ordered", v_.programme, task, "no work order holds it");
  }

 private:
  void check_order(std::span<const uint32_t> rows) const {
    int64_t until = 0, number = 0;
    for (const uint32_t row : rows) {
      if (date_[row] != date_[rows.front()] || crew_[row] != crew_[rows.front()])
        v_.log.add("order-differs", t_, row, "its stops are of two crews or days");
      if (t_["stop"][row] != ++number)
        v_.log.add("stop-out-of-order", t_, row,
                   fmt::format("stop {} stands where {} belongs", cell_text(t_["stop"][row]), number));
      if (from_[row] < until)
        v_.log.add("stops-overlap", t_, row,
                   fmt::format("begins at {}, the stop before ends at {}", cell_text(from_[row]), until));
      until = std::max(until, or_zero(to_[row]));
    }
  }

  void check_day(size_t row) {
    if (from_[row] < 0 || to_[row] > shift_ || to_[row] < from_[row])
      v_.log.add("stop-outside-shift", t_, row,
                 fmt::format("from {} to {} of a shift of {} min", cell_text(from_[row]), cell_text(to_[row]),
                             shift_));
    if (date_[row] == no_cell) return v_.log.add("day-off-worked", t_, row, "it has no date");
    const Date day{static_cast<int32_t>(date_[row])};
    if (!days_.works(day)) v_.log.add("day-off-worked", t_, row, fmt::format("{} is a day off", iso(day)));
    const int64_t task = task_[row];
    if (v_.programme["crew"][task] != crew_[row])
      v_.log.add("order-crew-differs", t_, row,
                 fmt::format("{} does the task in the programme", v_.plan.words[v_.programme["crew"][task]]));
    if (v_.programme["kind"][task] != t_["kind"][row] || v_.programme["area"][task] != t_["area"][row])
      v_.log.add("order-task-differs", t_, row,
                 fmt::format("kind or area is not that of task {}", cell_text(task)));
  }

  // A task's stops follow one another from its start to its finish and add up to its amount.
  void check_parts(int64_t task, std::span<const uint32_t> rows) {
    std::vector<std::tuple<int64_t, int64_t, uint32_t>> parts;
    int64_t sum = 0;
    for (const uint32_t row : rows) {
      const int64_t day =
          date_[row] == no_cell ? no_cell : days_.before(Date{static_cast<int32_t>(date_[row])});
      if (day == no_cell)
        return v_.log.add("order-time-differs", t_, row, "its date is not in the programme's time");
      parts.emplace_back(day * shift_ + or_zero(from_[row]), day * shift_ + or_zero(to_[row]), row);
      sum += or_zero(t_["amount"][row]);
    }
    std::sort(parts.begin(), parts.end());
    int64_t at = v_.programme["start"][task];
    for (size_t i = 0; i < parts.size(); ++i) {
      const auto [from, to, row] = parts[i];
      if (from != at)
        v_.log.add("order-time-differs", t_, row,
                   fmt::format("task {} goes on at {}, the stop at {}", task, cell_text(at), from));
      if ((t_["continued"][row] == 1) != (i > 0))
        v_.log.add("order-time-differs", t_, row, "continued does not say whether the task was begun before");
      at = to;
    }
    if (at != v_.programme["finish"][task])
      v_.log.add("order-time-differs", t_, rows.back(),
                 fmt::format("task {} is finished at {}, its last stop at {}", task,
                             cell_text(v_.programme["finish"][task]), cell_text(at)));
    if (sum != v_.programme["amount"][task])
      v_.log.add("order-amount-differs", t_, rows.back(),
                 fmt::format("stops of task {} add up to {} of {}", task, metres_of_cell(sum),
                             metres_of_cell(v_.programme["amount"][task])));
  }

  const AuditView& v_;
  const WrittenTable& t_;
  const Cells &date_ = t_["date"], &crew_ = t_["crew"], &task_ = t_["task"], &from_ = t_["from"],
              &to_ = t_["to"];
  DayCount days_;
  const int64_t shift_;
};

}  // namespace

void check_work_orders(const AuditView& view, const WrittenTable& orders) {
  OrderChecker(view, orders).check();
}

}  // namespace plan
