#include "bom/drums.h"

#include <algorithm>
#include <numeric>
#include <tuple>

#include "solve/cutting.h"

namespace plan {
namespace {

StationId area_of(const Takeoff& takeoff, const Cut& cut) {
  return cut.run.valid() ? takeoff.run_area[cut.run] : takeoff.link_area[cut.link];
}

class Planner {
 public:
  Planner(const BillInput& input, const std::vector<CutUse>& uses, Bill& bill)
      : in_(input), uses_(uses), bill_(bill) {
    bill_.cuts.resize(in_.takeoff.cuts.size());
    bill_.drums_bound.resize(in_.takeoff.items.size());
  }

  void plan() {
    const std::vector<Cut>& cuts = in_.takeoff.cuts;
    for (size_t first = 0; first < cuts.size();) {
      size_t last = first;
      while (last < cuts.size() && cuts[last].item == cuts[first].item) ++last;
      if (in_.takeoff.items[cuts[first].item].drum > Length()) plan_item(first, last);
      first = last;
    }
  }

 private:
  void plan_item(size_t first, size_t last) {
    const ItemId item = in_.takeoff.cuts[first].item;
    const int64_t capacity = to_whole_millimetres(in_.takeoff.items[item].drum);
    std::vector<int64_t> sizes;
    for (size_t c = first; c < last; ++c) sizes.push_back(to_whole_millimetres(in_.takeoff.cuts[c].length));
    const Cutting cutting = first_fit_decreasing(sizes, capacity, batches(first, last));
    bill_.drums_bound[item] = martello_toth_bound(sizes, capacity);
    write(first, cutting, capacity);
    const auto longest = std::max_element(sizes.begin(), sizes.end());
    if (*longest > capacity)
      bill_.findings.push_back({.rule = Rule::cut_longer_than_drum,
                                .at = subject(item),
                                .by = thing(first + static_cast<size_t>(longest - sizes.begin())),
                                .actual = in_metres(whole_millimetres(*longest)),
                                .limit = in_metres(whole_millimetres(capacity)),
                                .mend = Mend::in_line_joint});
  }

  Subject thing(size_t cut) const {
    const Cut& c = in_.takeoff.cuts[cut];
    return c.run.valid() ? subject(c.run) : subject(c.link);
  }

  // Areas in the order in which they first use the item.
  std::vector<uint32_t> batches(size_t first, size_t last) const {
    std::vector<std::pair<StationId, Work>> starts;
    for (size_t c = first; c < last; ++c)
      starts.emplace_back(area_of(in_.takeoff, in_.takeoff.cuts[c]), uses_[c].at);
    std::vector<std::pair<StationId, Work>> areas = starts;
    std::sort(areas.begin(), areas.end());
    areas.erase(std::unique(areas.begin(), areas.end(),
                            [](const auto& a, const auto& b) { return a.first == b.first; }),
                areas.end());
    std::vector<uint32_t> order(areas.size()), rank(areas.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(),
                     [&](uint32_t a, uint32_t b) { return areas[a].second < areas[b].second; });
    for (uint32_t i = 0; i < order.size(); ++i) rank[order[i]] = i;
    std::vector<uint32_t> out;
    for (const auto& [area, at] : starts) {
      const auto found = std::lower_bound(areas.begin(), areas.end(), area,
                                          [](const auto& a, StationId s) { return a.first < s; });
      out.push_back(rank[static_cast<size_t>(found - areas.begin())]);
    }
    return out;
  }

  // Drums in the order of first use, the cuts of each in the order of use.
  void write(size_t first, const Cutting& cutting, int64_t capacity) {
    std::vector<std::vector<uint32_t>> rows(cutting.used.size());
    for (size_t i = 0; i < cutting.stock.size(); ++i)
      rows[cutting.stock[i]].push_back(static_cast<uint32_t>(first + i));
    const auto earlier = [&](uint32_t a, uint32_t b) {
      return std::tuple(uses_[a].at, a) < std::tuple(uses_[b].at, b);
    };
    for (auto& row : rows) std::sort(row.begin(), row.end(), earlier);
    std::sort(rows.begin(), rows.end(),
              [&](const auto& a, const auto& b) { return earlier(a.front(), b.front()); });
    for (const auto& row : rows) write_drum(row, capacity);
  }

  void write_drum(const std::vector<uint32_t>& row, int64_t capacity) {
    const DrumId id(bill_.drums.size());
    Length at;
    for (const uint32_t c : row) {
      const Length out = at + in_.takeoff.cuts[c].length;
      bill_.cuts[c] = {id, at, out};
      at = out;
    }
    const Length length = std::max(whole_millimetres(capacity), at);
    bill_.drums.add({in_.takeoff.cuts[row.front()].item, length, at, uses_[row.front()].on});
    bill_.drum_cuts.add(row);
  }

  const BillInput& in_;
  const std::vector<CutUse>& uses_;
  Bill& bill_;
};

}  // namespace

std::vector<CutUse> uses_of_cuts(const BillInput& in) {
  const Schedule& schedule = in.schedule;
  Table<RunId, TaskId> lay(in.takeoff.run_area.size());
  Table<LinkId, TaskId> blow(in.takeoff.link_area.size());
  Table<TaskId, Date> first_day(schedule.tasks.size(), schedule.finish);
  for (size_t k = schedule.crew_days.size(); k-- > 0;)
    for (const TaskPart& p : schedule.parts[OrderId(k)])
      first_day[p.task] = schedule.crew_days[OrderId(k)].date;
  for (const TaskId t : schedule.tasks.ids()) {
    const TaskKind kind = schedule.tasks[t].kind;
    if (kind != TaskKind::lay && kind != TaskKind::blow) continue;
    for (const uint32_t thing : schedule.things[t])
      (kind == TaskKind::lay ? lay[RunId(thing)] : blow[LinkId(thing)]) = t;
  }
  std::vector<CutUse> out;
  out.reserve(in.takeoff.cuts.size());
  for (const Cut& c : in.takeoff.cuts) {
    const TaskId t = c.run.valid() ? lay[c.run] : blow[c.link];
    out.push_back(t.valid() ? CutUse{schedule.tasks[t].start, first_day[t]}
                            : CutUse{schedule.length, schedule.finish});
  }
  return out;
}

void plan_drums(const BillInput& input, const std::vector<CutUse>& uses, Bill& bill) {
  Planner(input, uses, bill).plan();
}

}  // namespace plan
