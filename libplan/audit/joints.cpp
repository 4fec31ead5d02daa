#include <fmt/core.h>

#include <algorithm>

#include "audit/checks.h"

namespace plan {
namespace {

enum End : size_t { at_from = 0, at_to = 1 };

class JointChecker {
 public:
  explicit JointChecker(const AuditView& view)
      : v_(view),
        fitted_{Cells(s_.rows(), 0), Cells(s_.rows(), 0)},
        other_{Cells(s_.rows()), Cells(s_.rows())},
        kind_at_{Cells(s_.rows()), Cells(s_.rows())} {}

  void check() {
    for (size_t j = 0; j < j_.rows(); ++j) check_joint(j);
    for (size_t s = 0; s < s_.rows(); ++s)
      for (const End end : {at_from, at_to}) check_end(s, end);
    for (size_t l = 0; l < v_.links.rows(); ++l) check_path(l);
    check_branch_points();
  }

 private:
  void check_joint(size_t j) {
    const int64_t node = node_[j], a = a_[j], b = b_[j], kind = j_["kind"][j];
    const bool joins = kind == straight_ || kind == reducing_;
    if (joins != (b != no_cell))
      v_.log.add("joint-kind-differs", j_, j,
                 fmt::format("{} with {} section", v_.plan.words[kind], b == no_cell ? "one" : "a second"));
    fit(j, a, node, b, kind);
    if (b == no_cell) return;
    fit(j, b, node, a, kind);
    const Microduct *x = v_.microduct_of_run(run_[a]), *y = v_.microduct_of_run(run_[b]);
    if (x == nullptr || y == nullptr) return;
    const bool same = x->od == y->od && x->id == y->id;
    if (joins && same != (kind == straight_))
      v_.log.add("joint-kind-differs", j_, j,
                 fmt::format("{} between {} and {}", v_.plan.words[kind], x->name, y->name));
  }

  void fit(size_t j, int64_t section, int64_t node, int64_t other, int64_t kind) {
    if (from_[section] != node && to_[section] != node) {
      v_.log.add("joint-off-section", j_, j,
                 fmt::format("section {} has no end at node {}", cell_text(section), cell_text(node)));
      return;
    }
    const End end = to_[section] == node ? at_to : at_from;
    fitted_[end].add(section, 1);
    other_[end].set(section, other);
    kind_at_[end].set(section, kind);
  }

  void check_end(size_t s, End end) const {
    const int64_t node = end == at_from ? from_[s] : to_[s], kind = kind_at_[end][s];
    if (fitted_[end][s] == 0)
      return v_.log.add("end-open", s_, s, fmt::format("its end at node {} has no fitting", cell_text(node)));
    if (fitted_[end][s] > 1)
      v_.log.add("end-fitted-twice", s_, s,
                 fmt::format("its end at node {} has {} fittings", cell_text(node), fitted_[end][s]));
    const bool sealed = kind == block_, stopped = kind == stop_, used = state_[s] == used_;
    if ((sealed && !used) || (stopped && used))
      v_.log.add("end-fitting-differs", s_, s,
                 fmt::format("{} at node {} of a section that is {}", v_.plan.words[kind], cell_text(node),
                             v_.plan.words[state_[s]]));
    if ((sealed || stopped) || other_[end][s] == no_cell) return;
    if (link_[s] != link_[other_[end][s]])
      v_.log.add("joint-of-strangers", s_, s,
                 fmt::format("joined at node {} to a section of link {}", cell_text(node),
                             cell_text(link_[other_[end][s]])));
  }

  void check_path(size_t l) const {
    const auto path = v_.links.list("sections")[l];
    for (size_t i = 1; i < path.size(); ++i)
      if (other_[at_to][path[i - 1]] != static_cast<int64_t>(path[i]) ||
          other_[at_from][path[i]] != static_cast<int64_t>(path[i - 1]))
        v_.log.add("joint-missing", v_.links, l,
                   fmt::format("sections {} and {} are not joined", path[i - 1], path[i]));
  }

  void check_branch_points() const {
    const WrittenTable& t = v_.plan["branch-points.csv"];
    NumberMap rows;
    for (size_t row = 0; row < t.rows(); ++row) rows.add(t["node"][row], static_cast<int64_t>(row));
    rows.sort();
    Cells joints(t.rows(), 0), meeting(t.rows(), 0);
    for (size_t j = 0; j < j_.rows(); ++j) {
      if (b_[j] == no_cell) continue;
      const int64_t row = rows[node_[j]];
      if (row == no_cell)
        v_.log.add(
            "branch-point-missing", j_, j,
            fmt::format("microducts are joined at node {}, which is no branch point", cell_text(node_[j])));
      joints.add(row, 1);
      if (ways_[run_[a_[j]]] > 1 && ways_[run_[b_[j]]] > 1) meeting.set(row, 1);
    }
    const int64_t buried = v_.word("buried");
    const bool chambers = !v_.plan.scenario.duct_catalogue->chambers.empty();
    for (size_t row = 0; row < t.rows(); ++row) {
      if (t["joints"][row] != joints[row])
        v_.log.add("branch-joints-differ", t, row,
                   fmt::format("{} joints, {} are listed at node {}", cell_text(t["joints"][row]),
                               joints[row], cell_text(t["node"][row])));
      const bool needed = meeting[row] == 1 && joints[row] > v_.plan.scenario.duct_rules->buried_joints;
      if (chambers && needed != (t["chamber"][row] != buried))
        v_.log.add(
            "chamber-differs", t, row,
            needed ? "bundles meet here and have no chamber" : "a chamber where a buried closure does");
    }
  }

  const AuditView& v_;
  const WrittenTable &j_ = v_.joints, &s_ = v_.sections;
  const Cells &node_ = j_["node"], &a_ = j_["section a"], &b_ = j_["section b"], &run_ = s_["run"],
              &from_ = s_["from node"], &to_ = s_["to node"], &state_ = s_["state"], &link_ = s_["link"],
              &ways_ = v_.runs["ways"];
  const int64_t straight_ = v_.word("straight"), reducing_ = v_.word("reducing"), stop_ = v_.word("end stop"),
                block_ = v_.word("block connector"), used_ = v_.word("used");
  Cells fitted_[2], other_[2], kind_at_[2];
};

}  // namespace

void check_joints(const AuditView& view) {
  JointChecker(view).check();
}

}  // namespace plan
