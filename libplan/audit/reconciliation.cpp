#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "audit/checks.h"

namespace plan {
namespace {

struct Counted {
  int64_t given = 0, used = 0, reserved = 0;
};

class ReconciliationChecker {
 public:
  explicit ReconciliationChecker(const AuditView& view) : v_(view) {}

  void check() {
    count_dwellings();
    count_microducts();
    count_ports();
    count_fibres();
    count_olt_ports();
    for (size_t row = 0; row < t_.rows(); ++row) check_row(row);
    for (const auto& [key, counted] : counts_)
      if (counted.given != 0 || counted.used != 0 || counted.reserved != 0)
        v_.log.add("reconciliation-missing", t_.file(), 0,
                   fmt::format("{} of station {} have no row", key.second, key.first));
  }

 private:
  Counted& at(int64_t station, std::string_view what) { return counts_[{station, what}]; }

  void check_row(size_t row) {
    const auto sum = [&](std::string_view column) { return or_zero(t_[column][row]); };
    const int64_t rest = sum("given") - sum("used") - sum("reserved") - sum("spare") - sum("dead");
    if (rest != 0 || t_["difference"][row] != rest)
      v_.log.add("reconciliation-open", t_, row,
                 fmt::format("{} of station {}: given minus the rest is {}, written {}",
                             v_.plan.words[t_["what"][row]], cell_text(t_["station"][row]), rest,
                             cell_text(t_["difference"][row])));
    const auto found = counts_.find({t_["station"][row], v_.plan.words[t_["what"][row]]});
    const Counted counted = found == counts_.end() ? Counted() : found->second;
    if (found != counts_.end()) found->second = {};
    if (sum("given") != counted.given || sum("used") != counted.used || sum("reserved") != counted.reserved)
      v_.log.add("reconciliation-differs", t_, row,
                 fmt::format("{} of station {}: {} given, {} used, {} reserved; counted {}, {}, {}",
                             v_.plan.words[t_["what"][row]], cell_text(t_["station"][row]), sum("given"),
                             sum("used"), sum("reserved"), counted.given, counted.used, counted.reserved));
  }

  void add_state(Counted& c, int64_t state, int64_t amount) const {
    if (state == lit_ || state == used_) c.used += amount;
    if (state == reserved_) c.reserved += amount;
  }

  void count_dwellings() {
    const Cells &from = v_.links["from station"], &name = v_.links["premises"];
    for (size_t l = 0; l < v_.links.rows(); ++l)
      if (name[l] != no_cell)
        at(from[l], "dwellings").given += or_zero(v_.premises["dwellings"][v_.premises_by_name[name[l]]]);
    for (size_t d = 0; d < v_.dwellings.rows(); ++d) {
      const int64_t state = v_.dwellings["state"][d], link = v_.dwellings["link"][d],
                    splitter = v_.dwellings["splitter"][d];
      if (link != no_cell) add_state(at(from[link], "dwellings"), state, 1);
      if (splitter != no_cell) add_state(at(v_.splitters["station"][splitter], "splitter ports"), state, 1);
    }
  }

  // A microduct of a run counts once: as used where any of its sections is used, else as reserved.
  void count_microducts() {
    const Cells &run = v_.sections["run"], &position = v_.sections["position"], &state = v_.sections["state"],
                &length = v_.sections["length"], &station = v_.runs["station"];
    for (size_t r = 0; r < v_.runs.rows(); ++r) {
      const int64_t ways = std::min<int64_t>(or_zero(v_.runs["ways"][r]), most_ways);
      at(station[r], "microducts").given += ways;
      at(station[r], "microduct millimetres").given += ways * or_zero(v_.runs["length"][r]);
    }
    std::vector<uint8_t> best;  // by position: 2 used, 1 reserved
    each_group(run, [&](int64_t r, std::span<const uint32_t> rows) {
      best.assign(static_cast<size_t>(std::clamp<int64_t>(v_.runs["ways"][r], 0, most_ways)) + 1, 0);
      Counted &millimetres = at(station[r], "microduct millimetres"),
              &microducts = at(station[r], "microducts");
      for (const uint32_t s : rows) {
        add_state(millimetres, state[s], or_zero(length[s]));
        if (position[s] < 1 || position[s] >= static_cast<int64_t>(best.size())) continue;
        uint8_t& now = best[static_cast<size_t>(position[s])];
        now = std::max<uint8_t>(now, state[s] == used_ ? 2 : state[s] == reserved_ ? 1 : 0);
      }
      for (const uint8_t b : best) (b == 2 ? microducts.used : microducts.reserved) += b == 0 ? 0 : 1;
    });
  }

  void count_ports() {
    const WrittenTable& t = v_.splitters;
    for (size_t s = 0; s < t.rows(); ++s) {
      at(t["station"][s], "splitter ports").given += or_zero(t["ports"][s]);
      if (t["upstream"][s] == no_cell) continue;
      Counted& c = at(t["station"][t["upstream"][s]], "splitter ports");
      ++(t["fitted"][s] == v_.word("day one") ? c.used : c.reserved);
    }
  }

  void count_fibres() {
    const WrittenTable& t = v_.links;
    for (size_t l = 0; l < t.rows(); ++l) {
      if (t["cable"][l] == no_cell) continue;
      const bool reserved = !blown_at_build(v_, static_cast<int64_t>(l));
      const auto add = [&](Counted& c, bool kept, int64_t used) {
        c.given += or_zero(t["fibres"][l]);
        (kept ? c.reserved : c.used) += or_zero(used);
      };
      add(at(t["from station"][l], "fibres"), reserved, t["fibres used"][l]);
      const int64_t to = t["to station"][l];
      if (to != no_cell) add(at(to, "feeder fibres"), false, v_.stations["feed fibres"][to]);
    }
  }

  void count_olt_ports() {
    std::map<int64_t, int64_t> station;  // of a headend's name
    for (size_t s = 0; s < v_.stations.rows(); ++s)
      if (v_.stations["kind"][s] == v_.word("headend"))
        station.emplace(v_.stations["headend"][s], static_cast<int64_t>(s));
    for (size_t p = 0; p < v_.pons.rows(); ++p) {
      const auto found = station.find(v_.pons["headend"][p]);
      if (found == station.end()) {
        v_.log.add("pon-headend-differs", v_.pons, p, "no station is its headend");
        continue;
      }
      Counted& c = at(found->second, "OLT ports");
      c.given = std::max(c.given, v_.pons["port"][p]);
      ++(v_.pons["dwellings day one"][p] > 0 ? c.used : c.reserved);
    }
  }

  static constexpr int64_t most_ways = 1000;
  const AuditView& v_;
  const WrittenTable& t_ = v_.plan["reconciliation.csv"];
  const int64_t lit_ = v_.word("lit"), used_ = v_.word("used"), reserved_ = v_.word("reserved");
  std::map<std::pair<int64_t, std::string_view>, Counted> counts_;
};

}  // namespace

void check_reconciliation(const AuditView& view) {
  ReconciliationChecker(view).check();
}

}  // namespace plan
