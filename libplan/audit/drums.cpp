#include <fmt/core.h>

#include <algorithm>

#include "audit/checks.h"

namespace plan {
namespace {

// What stands at the ends of runs and leaves a tail there.
struct TailPlaces {
  NumberMap chambers, stations;
};

class DrumChecker {
 public:
  explicit DrumChecker(const AuditView& view)
      : v_(view), run_cut_(v_.runs.rows(), 0), link_cut_(v_.links.rows(), 0) {
    const WrittenTable& points = v_.plan["branch-points.csv"];
    const int64_t buried = v_.word("buried"), branch = v_.word("branch point");
    for (size_t row = 0; row < points.rows(); ++row)
      if (points["chamber"][row] != buried) places_.chambers.add(points["node"][row], 1);
    for (size_t s = 0; s < v_.stations.rows(); ++s)
      if (v_.stations["kind"][s] != branch) places_.stations.add(v_.stations["node"][s], 1);
    places_.chambers.sort();
    places_.stations.sort();
  }

  void check() {
    each_group(t_["drum"], [&](int64_t, std::span<const uint32_t> rows) { check_drum(rows); });
    for (size_t row = 0; row < t_.rows(); ++row) check_cut(row);
    for (size_t r = 0; r < v_.runs.rows(); ++r) {
      const Bundle* bundle = v_.bundle(v_.runs["bundle"][r]);
      cut_once(v_.runs, r, run_cut_[r], bundle != nullptr && bundle->drum > Length());
    }
    for (size_t l = 0; l < v_.links.rows(); ++l) {
      const Cable* cable = v_.cable(v_.links["cable"][l]);
      const bool blown = blown_at_build(v_, static_cast<int64_t>(l)) && !v_.links.list("sections")[l].empty();
      cut_once(v_.links, l, link_cut_[l], blown && cable != nullptr && cable->drum > Length());
    }
  }

 private:
  // Cuts follow one another from metre 0 and end on the drum, one item a drum.
  void check_drum(std::span<const uint32_t> rows) const {
    int64_t at = 0, number = 0;
    for (const uint32_t row : rows) {
      const int64_t in = or_zero(t_["metre in"][row]), out = or_zero(t_["metre out"][row]);
      if (t_["cut"][row] != ++number)
        v_.log.add("cut-out-of-order", t_, row,
                   fmt::format("cut {} stands where {} belongs", cell_text(t_["cut"][row]), number));
      if (in < at)
        v_.log.add("cuts-overlap", t_, row,
                   fmt::format("begins at {} m, the cut before ends at {} m", metres_of_cell(in),
                               metres_of_cell(at)));
      if (in > at || out <= in)
        v_.log.add("cut-out-of-order", t_, row,
                   fmt::format("from {} to {} m, the cut before ends at {} m", metres_of_cell(in),
                               metres_of_cell(out), metres_of_cell(at)));
      if (out > t_["length"][row])
        v_.log.add(
            "cut-beyond-drum", t_, row,
            fmt::format("ends at {} m of {} m", metres_of_cell(out), metres_of_cell(t_["length"][row])));
      if (t_["item"][row] != t_["item"][rows.front()] || t_["length"][row] != t_["length"][rows.front()])
        v_.log.add("drum-differs", t_, row, "its cuts are of two items or lengths");
      at = std::max(at, out);
    }
    check_length(rows.front());
  }

  void check_length(uint32_t row) const {
    const int64_t item = t_["item"][row];
    const Bundle* bundle = v_.bundle(item);
    const Cable* cable = v_.cable(item);
    const Length drum = bundle != nullptr ? bundle->drum : cable != nullptr ? cable->drum : Length();
    const bool longer = t_["length"][row] > to_whole_millimetres(drum) &&
                        v_.found.at("cut-longer-than-drum", v_.plan.words[item]);
    if (t_["length"][row] != to_whole_millimetres(drum) && !longer)
      v_.log.add("drum-differs", t_, row,
                 fmt::format("a drum of {} m, the catalogue's holds {} m", metres_of_cell(t_["length"][row]),
                             in_metres(drum)));
  }

  void check_cut(size_t row) {
    const int64_t run = t_["run"][row], link = t_["link"][row];
    const int64_t length = or_zero(t_["metre out"][row]) - or_zero(t_["metre in"][row]);
    if ((run == no_cell) == (link == no_cell))
      return v_.log.add("cut-of-nothing", t_, row, "it is for one run or one link");
    const int64_t item = run != no_cell ? v_.runs["bundle"][run] : v_.links["cable"][link];
    const int64_t needed = run != no_cell ? or_zero(v_.runs["length"][run]) + tails(run)
                                          : or_zero(v_.links["cable length"][link]);
    (run != no_cell ? run_cut_ : link_cut_).add(run != no_cell ? run : link, 1);
    if (t_["item"][row] != item)
      v_.log.add("drum-differs", t_, row,
                 fmt::format("'{}' for '{}'", v_.plan.words[t_["item"][row]], v_.plan.words[item]));
    if (length != needed)
      v_.log.add("cut-length-differs", t_, row,
                 fmt::format("{} m cut, {} m are needed", metres_of_cell(length), metres_of_cell(needed)));
  }

  void cut_once(const WrittenTable& table, size_t row, int64_t times, bool needed) const {
    if (times > 1) v_.log.add("cut-twice", table, row, fmt::format("cut {} times", times));
    if (needed && times == 0) v_.log.add("cut-missing", table, row, "no drum holds its length");
    if (!needed && times > 0)
      v_.log.add("cut-of-nothing", table, row, "cut, but nothing is laid or blown here at build");
  }

  // Left over at a cabinet, headend or premises where the run ends, and in every chamber on its way.
  int64_t tails(int64_t run) const {
    const auto spans = v_.runs.list("spans")[run];
    int64_t node = v_.runs["from node"][run];
    Length sum = tail_at(run, node, true);
    for (size_t i = 0; i < spans.size(); ++i) {
      const int64_t row = v_.span_rows[spans[i]], from = v_.spans["from node"][row];
      node = from == node ? v_.spans["to node"][row] : from;
      sum += tail_at(run, node, i + 1 == spans.size());
    }
    return to_whole_millimetres(sum);
  }

  Length tail_at(int64_t run, int64_t node, bool end) const {
    const DuctRules& rules = *v_.plan.scenario.duct_rules;
    if (end && v_.node_premises[node] != no_cell) return rules.tail_at_premises;
    if (end && places_.stations[node] != no_cell) return rules.tail_at_cabinet;
    if (places_.chambers[node] == no_cell) return {};
    return v_.runs["role"][run] == drop_ ? rules.drop_tail_in_chamber : rules.tail_in_chamber;
  }

  const AuditView& v_;
  const WrittenTable& t_ = v_.plan["drums.csv"];
  const int64_t drop_ = v_.word("drop");
  TailPlaces places_;
  Cells run_cut_, link_cut_;
};

}  // namespace

void check_drums(const AuditView& view) {
  DrumChecker(view).check();
}

}  // namespace plan
