#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "audit/checks.h"

namespace plan {
namespace {

// A section laid on its run: [from, to] millimetres from the run's beginning.
struct Laid {
  int64_t position = 0, from = 0, to = 0;
  uint32_t section = 0;
};

class RunChecker {
 public:
  explicit RunChecker(const AuditView& view)
      : v_(view),
        r_(v_.runs),
        s_(v_.sections),
        run_from_(r_["from node"]),
        run_to_(r_["to node"]),
        run_length_(r_["length"]),
        ways_(r_["ways"]),
        span_from_(v_.spans["from node"]),
        span_to_(v_.spans["to node"]),
        span_length_(v_.spans["length"]),
        spans_(r_.list("spans")),
        position_(s_["position"]),
        from_(s_["from node"]),
        to_(s_["to node"]),
        length_(s_["length"]),
        state_(s_["state"]),
        link_(s_["link"]),
        colour_(s_["colour"]) {}

  void check() {
    std::vector<uint8_t> seen(r_.rows(), 0);
    each_group(s_["run"], [&](int64_t run, std::span<const uint32_t> sections) {
      if (run < 0 || run >= static_cast<int64_t>(r_.rows())) return;
      seen[static_cast<size_t>(run)] = 1;
      check_run(static_cast<size_t>(run), sections);
    });
    for (size_t run = 0; run < r_.rows(); ++run)
      if (seen[run] == 0) check_run(run, {});
  }

 private:
  void check_run(size_t run, std::span<const uint32_t> sections) {
    check_bundle(run);
    trace(run);
    laid_.clear();
    for (const uint32_t s : sections) check_section(run, s);
    std::sort(laid_.begin(), laid_.end(), [](const Laid& a, const Laid& b) {
      return std::tie(a.position, a.from, a.to, a.section) < std::tie(b.position, b.from, b.to, b.section);
    });
    cover(run);
  }

  void check_bundle(size_t run) const {
    const Bundle* bundle = v_.bundle(r_["bundle"][run]);
    if (bundle == nullptr) {
      v_.log.add("bundle-unknown", r_, run,
                 fmt::format("the catalogue has no '{}'", v_.plan.words[r_["bundle"][run]]));
      return;
    }
    if (ways_[run] != bundle->ways)
      v_.log.add("ways-differ", r_, run,
                 fmt::format("{} ways, {} has {}", cell_text(ways_[run]), bundle->name, bundle->ways));
    const bool found = v_.found.at("cut-longer-than-drum", fmt::format("run {}", run));
    if (bundle->drum > Length() && run_length_[run] > to_whole_millimetres(bundle->drum) && !found)
      v_.log.add("run-longer-than-drum", r_, run,
                 fmt::format("run of {} m on drums of {} m", metres_of_cell(run_length_[run]),
                             in_metres(bundle->drum)));
  }

  // Nodes on the run with their distance from its beginning; the end stands at the run's own length.
  void trace(size_t run) {
    nodes_.assign(1, {run_from_[run], 0});
    int64_t sum = 0;
    for (const uint32_t span : spans_[run]) {
      const int64_t row = v_.span_rows[span], at = nodes_.back().first;
      if (span_from_[row] != at && span_to_[row] != at) {
        v_.log.add("run-chain-broken", r_, run,
                   fmt::format("span {} does not go on from node {}", span, cell_text(at)));
        break;
      }
      sum += or_zero(span_length_[row]);
      nodes_.emplace_back(span_from_[row] == at ? span_to_[row] : span_from_[row], sum);
    }
    if (nodes_.back().first != run_to_[run])
      v_.log.add("run-chain-broken", r_, run,
                 fmt::format("its spans end at node {}, the run at node {}", cell_text(nodes_.back().first),
                             cell_text(run_to_[run])));
    const int64_t laid = laid_length(run, sum);
    if (run_length_[run] != laid)
      v_.log.add("run-length-differs", r_, run,
                 fmt::format("{} m, its spans add up to {} m", metres_of_cell(run_length_[run]),
                             metres_of_cell(laid)));
    nodes_.back().second = or_zero(run_length_[run]);
    std::sort(nodes_.begin(), nodes_.end());
  }

  // A drop on order may be laid to the boundary of its plot only.
  int64_t laid_length(size_t run, int64_t along_spans) const {
    const int64_t owner = v_.node_premises[run_to_[run]];
    if (r_["role"][run] != v_.word("drop") || v_.laid_now(owner) != "to boundary") return along_spans;
    const int64_t boundary = v_.premises["boundary"][owner];
    return boundary > 0 ? std::min(boundary, along_spans) : along_spans;
  }

  int64_t offset(int64_t node) const {
    const auto at = std::lower_bound(nodes_.begin(), nodes_.end(), std::pair(node, INT64_MIN));
    return at != nodes_.end() && at->first == node ? at->second : no_cell;
  }

  void check_section(size_t run, uint32_t s) {
    if (position_[s] < 1 || position_[s] > ways_[run]) {
      v_.log.add("position-out-of-range", s_, s,
                 fmt::format("position {} of {} ways", cell_text(position_[s]), cell_text(ways_[run])));
      return;
    }
    if (colour_[s] != colour_at(run, position_[s]))
      v_.log.add("colour-differs", s_, s,
                 fmt::format("position {} is not {}", position_[s], v_.plan.words[colour_[s]]));
    const int64_t from = offset(from_[s]), to = offset(to_[s]);
    if (from == no_cell || to == no_cell || from >= to) {
      v_.log.add("section-off-run", s_, s,
                 fmt::format("nodes {} to {} are not in this order on run {}", cell_text(from_[s]),
                             cell_text(to_[s]), run));
      return;
    }
    if (length_[s] != to - from)
      v_.log.add(
          "section-length-differs", s_, s,
          fmt::format("{} m, {} m along its run", metres_of_cell(length_[s]), metres_of_cell(to - from)));
    laid_.push_back({position_[s], from, to, s});
    check_state(run, s, to - from);
  }

  void check_state(size_t run, uint32_t s, int64_t length) const {
    const bool live = state_[s] == used_ || state_[s] == reserved_;
    const auto differs = [&](std::string_view why) {
      v_.log.add("section-state-differs", s_, s, fmt::format("{}, {}", v_.plan.words[state_[s]], why));
    };
    if (live != (link_[s] != no_cell)) return differs(live ? "but no link uses it" : "but a link uses it");
    if (state_[s] == spare_ && length != run_length_[run]) return differs("but another part of it is used");
    if (!live) return;
    const int64_t premises = v_.premises_by_name[link_premises_[link_[s]]];
    const bool on_order = v_.premises["state"][premises] == reserved_;
    if (on_order != (state_[s] == reserved_))
      differs(on_order ? "but its premises are on order" : "but nothing is on order");
  }

  // Each position is filled from end to end, nowhere twice.
  void cover(size_t run) const {
    size_t i = 0;
    for (int64_t position = 1; position <= std::min<int64_t>(ways_[run], most_ways); ++position) {
      int64_t filled = 0;
      for (; i < laid_.size() && laid_[i].position == position; ++i) {
        if (laid_[i].from < filled)
          v_.log.add("section-overlap", s_, laid_[i].section,
                     fmt::format("position {} of run {} is taken up to {} m", position, run,
                                 metres_of_cell(filled)));
        if (laid_[i].from > filled) gap(run, position, filled);
        filled = std::max(filled, laid_[i].to);
      }
      if (filled < run_length_[run]) gap(run, position, filled);
    }
  }

  void gap(size_t run, int64_t position, int64_t from) const {
    v_.log.add("run-not-filled", r_, run,
               fmt::format("position {} has no section from {} m on", position, metres_of_cell(from)));
  }

  int64_t colour_at(size_t run, int64_t position) {
    const auto [at, fresh] = colours_.try_emplace({r_["bundle"][run], position}, Words::no_word);
    const Bundle* bundle = fresh ? v_.bundle(r_["bundle"][run]) : nullptr;
    if (bundle != nullptr)
      at->second = v_.word(colour_of(v_.plan.scenario.fibre_catalogue->colour_codes, bundle->colour_code,
                                     static_cast<int>(position)));
    return at->second;
  }

  static constexpr int64_t most_ways = 1000;
  const AuditView& v_;
  const WrittenTable &r_, &s_;
  const Cells &run_from_, &run_to_, &run_length_, &ways_, &span_from_, &span_to_, &span_length_;
  const CellLists& spans_;
  const Cells &position_, &from_, &to_, &length_, &state_, &link_, &colour_;
  const Cells& link_premises_ = v_.links["premises"];
  const int64_t used_ = v_.word("used"), reserved_ = v_.word("reserved"), spare_ = v_.word("spare");
  std::vector<std::pair<int64_t, int64_t>> nodes_;
  std::vector<Laid> laid_;
  std::map<std::pair<int64_t, int64_t>, int64_t> colours_;
};

// Which runs lie in which span is written on both sides.
void check_spans(const AuditView& v) {
  std::vector<std::pair<int64_t, uint32_t>> lying;
  for (size_t run = 0; run < v.runs.rows(); ++run)
    for (const uint32_t span : v.runs.list("spans")[run])
      lying.emplace_back(span, static_cast<uint32_t>(run));
  std::sort(lying.begin(), lying.end());
  const Cells &id = v.spans["span"], &used = v.spans["used"], &opened = v.spans["opened"];
  const int64_t most = v.plan.scenario.duct_rules->bundles_per_span;
  for (size_t row = 0; row < v.spans.rows(); ++row) {
    const auto list = v.spans.list("runs")[row];
    const auto first = std::lower_bound(lying.begin(), lying.end(), std::pair(id[row], uint32_t{0}));
    const auto last = std::lower_bound(first, lying.end(), std::pair(id[row] + 1, uint32_t{0}));
    const bool same = std::equal(first, last, list.begin(), list.end(),
                                 [](const auto& a, uint32_t b) { return a.second == b; });
    if (!same)
      v.log.add("span-runs-differ", v.spans, row,
                fmt::format("{} runs are named, {} pass here", list.size(), last - first));
    if (first != last && used[row] != 1)
      v.log.add("span-not-used", v.spans, row, fmt::format("{} runs lie in it, used is 0", last - first));
    if (static_cast<int64_t>(list.size()) > most &&
        !v.found.at("bundles-per-span-exceeded", v.span_name(static_cast<int64_t>(row))))
      v.log.add("span-overfull", v.spans, row, fmt::format("{} bundles exceed limit {}", list.size(), most));
    if ((opened[row] == 1) != (v.opened[row] > 0))
      v.log.add("opened-differs", v.spans, row,
                fmt::format("opened is {}, {} m are to be opened", cell_text(opened[row]),
                            metres_of_cell(v.opened[row])));
  }
}

}  // namespace

void check_runs(const AuditView& view) {
  RunChecker(view).check();
  check_spans(view);
}

}  // namespace plan
