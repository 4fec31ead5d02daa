#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "audit/checks.h"

namespace plan {
namespace {

constexpr int64_t rounding_mm = 1;  // an indoor length is printed to the millimetre

class PathChecker {
 public:
  explicit PathChecker(const AuditView& view) : v_(view), in_paths_(s_.rows(), 0) {}

  void check() {
    for (size_t l = 0; l < l_.rows(); ++l) {
      check_ends(l);
      check_path(l);
      check_cable(l);
    }
    const Cells& link = s_["link"];
    for (size_t s = 0; s < s_.rows(); ++s) {
      if (in_paths_[s] > 1)
        v_.log.add("section-twice", s_, s, fmt::format("{} duct paths use it", in_paths_[s]));
      if (link[s] != no_cell && in_paths_[s] == 0)
        v_.log.add("section-not-in-path", s_, s,
                   fmt::format("names link {}, whose duct path leaves it out", link[s]));
    }
    check_stations();
  }

 private:
  void check_ends(size_t l) const {
    const int64_t from = l_["from station"][l], to = l_["to station"][l], name = l_["premises"][l];
    const auto differs = [&](std::string_view end) {
      v_.log.add("link-end-differs", l_, l,
                 fmt::format("its {} node is not where it {}", end, end == "from" ? "begins" : "ends"));
    };
    if (v_.stations["node"][from] != from_[l]) differs("from");
    if (to != no_cell && v_.stations["node"][to] != to_[l]) differs("to");
    if (to == no_cell && name == no_cell)
      v_.log.add("link-end-differs", l_, l, "it ends at no station and no premises");
    if (to != no_cell && v_.feeds[to] != static_cast<int64_t>(l))
      v_.log.add("station-fed-twice", l_, l,
                 fmt::format("{} is fed by link {} too", v_.station_name(to), v_.feeds[to]));
    if (to != no_cell && v_.stations["upstream"][to] != from)
      v_.log.add("station-upstream-differs", l_, l,
                 fmt::format("{} names station {} as upstream", v_.station_name(to),
                             cell_text(v_.stations["upstream"][to])));
  }

  void check_path(size_t l) {
    const auto path = l_.list("sections")[l];
    int64_t at = from_[l], sum = 0;
    for (const uint32_t s : path) {
      in_paths_.add(s, 1);
      if (section_link_[s] != static_cast<int64_t>(l))
        v_.log.add("path-wrong-link", l_, l,
                   fmt::format("section {} names link {}", s, cell_text(section_link_[s])));
      if (section_from_[s] != at)
        v_.log.add("path-broken", l_, l,
                   fmt::format("section {} begins at node {}, the path has come to node {}", s,
                               cell_text(section_from_[s]), cell_text(at)));
      at = section_to_[s];
      sum += or_zero(section_length_[s]);
    }
    const auto laid = v_.laid_now(v_.premises_by_name[l_["premises"][l]]);
    const bool begun = laid == "none";
    const bool missing = path.empty() && v_.found.anywhere("no-bundle-fits");
    if (at != to_[l] && !begun && !missing)
      v_.log.add(
          "path-broken", l_, l,
          fmt::format("the path ends at node {}, the link at node {}", cell_text(at), cell_text(to_[l])));
    const bool all_laid = laid == "to door";
    if (sum > 0 && (all_laid ? duct_length_[l] != sum : duct_length_[l] < sum))
      v_.log.add("path-length-differs", l_, l,
                 fmt::format("{} m, its sections add up to {} m", metres_of_cell(duct_length_[l]),
                             metres_of_cell(sum)));
  }

  void check_cable(size_t l) const {
    const int64_t name = l_["cable"][l];
    const int64_t expected = cable_length(l);
    if (std::abs(or_zero(l_["cable length"][l]) - expected) > rounding_mm)
      v_.log.add("cable-length-differs", l_, l,
                 fmt::format("{} m, duct path, slack and tails add up to {} m",
                             metres_of_cell(l_["cable length"][l]), metres_of_cell(expected)));
    if (name == no_cell) {
      if (!v_.found.anywhere("no-cable-for-fibres") && !v_.found.anywhere("no-unit-for-fibres"))
        v_.log.add("cable-missing", l_, l, "nothing is blown in and no finding says why");
      return;
    }
    const Cable* cable = v_.cable(name);
    if (cable == nullptr || l_["fibres"][l] != cable->fibres)
      return v_.log.add("cable-unknown", l_, l,
                        fmt::format("the catalogue has no '{}' of {} fibres", v_.plan.words[name],
                                    cell_text(l_["fibres"][l])));
    if (l_["fibres used"][l] > cable->fibres)
      v_.log.add("cable-too-small", l_, l,
                 fmt::format("{} fibres used of {}", l_["fibres used"][l], cable->fibres));
    for (const uint32_t s : l_.list("sections")[l]) {
      const Microduct* m = v_.microduct_of_run(section_run_[s]);
      if (m != nullptr && m->id <= cable->od)
        return v_.log.add("cable-too-wide", l_, l,
                          fmt::format("{} does not go into {}", cable->name, m->name));
    }
  }

  int64_t cable_length(size_t l) const {
    const FibreRules& rules = *v_.plan.scenario.fibre_rules;
    const bool unit = l_["premises"][l] != no_cell;
    const auto left_at = [&](int64_t station) {
      const int64_t kind = v_.stations["kind"][station];
      if (unit || (kind != headend_ && kind != cabinet_)) return rules.unit_tail;
      return kind == headend_ ? rules.cable_loop_at_headend : rules.cable_loop_at_cabinet;
    };
    Length sum = scaled(whole_millimetres(std::max<int64_t>(0, duct_length_[l])), 1 + rules.slack_share);
    sum += left_at(l_["from station"][l]) + left_at(l_["to station"][l]);
    const int64_t indoor = unit ? v_.premises["indoor"][v_.premises_by_name[l_["premises"][l]]] : 0;
    return to_whole_millimetres(sum) + std::max<int64_t>(0, indoor);
  }

  void check_stations() const {
    const WrittenTable& t = v_.stations;
    for (size_t s = 0; s < t.rows(); ++s) {
      const bool root = t["kind"][s] == headend_;
      const int64_t upstream = t["upstream"][s];
      if (root != (upstream == no_cell) || upstream >= static_cast<int64_t>(s))
        v_.log.add("station-upstream-differs", t, s,
                   fmt::format("{} {} is fed by station {}", v_.text(t["kind"][s]), s, cell_text(upstream)));
      else if (!root && v_.feeds[s] == no_cell)
        v_.log.add("station-unfed", t, s,
                   fmt::format("no link feeds {}", v_.station_name(static_cast<int64_t>(s))));
      if (!root && t["headend"][s] != t["headend"][upstream])
        v_.log.add("station-upstream-differs", t, s,
                   "it belongs to another headend than the station that feeds it");
    }
  }

  const AuditView& v_;
  const WrittenTable &l_ = v_.links, &s_ = v_.sections;
  const Cells &from_ = l_["from node"], &to_ = l_["to node"], &duct_length_ = l_["duct length"];
  const Cells &section_link_ = s_["link"], &section_from_ = s_["from node"], &section_to_ = s_["to node"],
              &section_length_ = s_["length"], &section_run_ = s_["run"];
  const int64_t headend_ = v_.word("headend"), cabinet_ = v_.word("cabinet");
  Cells in_paths_;
};

}  // namespace

void check_paths(const AuditView& view) {
  PathChecker(view).check();
}

}  // namespace plan
