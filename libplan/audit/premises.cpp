#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "audit/checks.h"

namespace plan {
namespace {

std::string_view connect_word(Connect c) {
  return c == Connect::at_build ? "at build" : c == Connect::on_order ? "on order" : "never";
}
std::string_view laid_word(DropLaid d) {
  return d == DropLaid::to_door ? "to door" : d == DropLaid::to_boundary ? "to boundary" : "none";
}

class PremisesChecker {
 public:
  explicit PremisesChecker(const AuditView& view)
      : v_(view),
        t_(v_.premises),
        name_(t_["premises"]),
        state_(t_["state"]),
        link_(t_["link"]),
        lit_(v_.word("lit")),
        reserved_(v_.word("reserved")) {}

  void check() {
    each_group(name_, [&](int64_t name, std::span<const uint32_t> rows) {
      if (rows.size() > 1)
        v_.log.add("premises-twice", t_, rows[1], fmt::format("{} has {} rows", v_.text(name), rows.size()));
    });
    if (v_.plan.estate_known) against_estate();
    for (size_t row = 0; row < t_.rows(); ++row) {
      check_state(row);
      if (link_[row] != no_cell) against_link(row);
    }
    linked_twice();
    check_dwellings();
  }

 private:
  bool served(size_t row) const { return state_[row] == lit_ || state_[row] == reserved_; }
  void differs(size_t row, std::string_view what) const {
    v_.log.add("premises-differ", t_, row,
               fmt::format("{} of {} is not that of the scenario", what, v_.text(name_[row])));
  }

  void against_estate() {
    const Demand& demand = *v_.plan.scenario.demand;
    for (const Premises& p : demand.premises) {
      const int64_t row = v_.premises_by_name[v_.word(p.name)];
      if (row == no_cell) {
        v_.log.add("premises-missing", t_.file(), 0, fmt::format("{} has no row", p.name));
        continue;
      }
      const auto at = static_cast<size_t>(row);
      if (t_["dwellings"][at] != p.dwellings) differs(at, "the number of dwellings");
      if (t_["connect"][at] != v_.word(connect_word(p.connect))) differs(at, "connect");
      if (t_["drop laid"][at] != v_.word(laid_word(p.laid))) differs(at, "the laid drop");
      if (t_["x"][at] != p.at.x || t_["y"][at] != p.at.y) differs(at, "the position");
      if (t_["boundary"][at] != to_whole_millimetres(p.boundary)) differs(at, "the boundary");
      if (t_["indoor"][at] != to_whole_millimetres(p.indoor)) differs(at, "the indoor length");
      if (t_["riser"][at] != to_whole_millimetres(p.riser)) differs(at, "the riser");
      if (t_["building point"][at] != (p.building_point ? 1 : 0)) differs(at, "the building point");
    }
    if (t_.rows() > demand.premises.size())
      v_.log.add("premises-twice", t_.file(), 0,
                 fmt::format("{} rows for {} premises", t_.rows(), demand.premises.size()));
  }

  void check_state(size_t row) {
    const int64_t connect = t_["connect"][row];
    const bool never = connect == v_.word("never"), on_order = connect == v_.word("on order");
    const std::string name = v_.text(name_[row]);
    if (never != (state_[row] == v_.word("not planned")) || (never && link_[row] != no_cell))
      v_.log.add("never-planned", t_, row,
                 fmt::format("{}: connect {}, state {}", name, v_.text(connect), v_.text(state_[row])));
    if (never) return;
    if (served(row) != (link_[row] != no_cell))
      v_.log.add(
          "premises-unlinked", t_, row,
          fmt::format("{} is {} {} a link", name, v_.text(state_[row]), served(row) ? "without" : "with"));
    if (served(row) && on_order != (state_[row] == reserved_))
      v_.log.add("premises-state-differs", t_, row,
                 fmt::format("{}: connect {}, state {}", name, v_.text(connect), v_.text(state_[row])));
    if (!served(row) && !v_.found.any_at(v_.premises_name(static_cast<int64_t>(row))))
      v_.log.add(on_order ? "reserved-not-ready" : "premises-unlit", t_, row,
                 fmt::format("{} is not served and no finding says why", name));
    if (on_order && served(row)) check_reserved(row);
  }

  // The blow is held by the rules of the blows, the port by those of the dwellings.
  void check_reserved(size_t row) const {
    if (!t_.list("duct path")[row].empty() || t_["drop laid"][row] == v_.word("none")) return;
    const int64_t link = link_[row];
    if (v_.links["from node"][link] == v_.links["to node"][link] || v_.found.anywhere("no-bundle-fits"))
      return;
    v_.log.add("reserved-not-ready", t_, row,
               fmt::format("{} has no reserved microduct", v_.text(name_[row])));
  }

  void against_link(size_t row) const {
    const int64_t link = link_[row];
    const auto differ = [&](std::string_view what) {
      v_.log.add("premises-link-differs", t_, row,
                 fmt::format("{} of {} is not that of link {}", what, v_.text(name_[row]), link));
    };
    const WrittenTable& l = v_.links;
    if (l["premises"][link] != name_[row]) return differ("the premises");
    if (l["from station"][link] != t_["station"][row]) differ("the station");
    if (l["duct length"][link] != t_["duct length"][row]) differ("the duct length");
    if (l["cable"][link] != t_["unit"][row]) differ("the unit");
    if (l["fibres used"][link] != t_["fibres used"][row]) differ("the number of fibres");
    if (l["cable length"][link] != t_["unit length"][row]) differ("the unit length");
    if (v_.blows["result"][link] != t_["blow"][row]) differ("the blow");
    const auto path = t_.list("duct path")[row], sections = l.list("sections")[link];
    if (!std::equal(path.begin(), path.end(), sections.begin(), sections.end())) differ("the duct path");
  }

  void linked_twice() const {
    each_group(v_.links["premises"], [&](int64_t name, std::span<const uint32_t> rows) {
      if (rows.size() > 1)
        v_.log.add("premises-linked-twice", v_.links, rows[1],
                   fmt::format("{} links end at {}", rows.size(), v_.text(name)));
      const int64_t row = v_.premises_by_name[name];
      if (row != no_cell && link_[row] != static_cast<int64_t>(rows[0]))
        v_.log.add("premises-link-differs", v_.links, rows[0],
                   fmt::format("link {} ends at {}, which names link {}", rows[0], v_.text(name),
                               cell_text(link_[row])));
    });
  }

  void check_dwellings() const {
    const WrittenTable& d = v_.dwellings;
    Cells counted(t_.rows(), 0);
    each_group(d["premises"], [&](int64_t name, std::span<const uint32_t> rows) {
      const int64_t at = v_.premises_by_name[name];
      counted.set(at, static_cast<int64_t>(rows.size()));
      std::vector<std::pair<int64_t, uint32_t>> numbers;
      for (const uint32_t row : rows) numbers.emplace_back(d["number"][row], row);
      std::sort(numbers.begin(), numbers.end());
      for (size_t i = 0; i < numbers.size(); ++i) {
        const auto [number, row] = numbers[i];
        if (i > 0 && numbers[i - 1].first == number)
          v_.log.add("dwelling-twice", d, row,
                     fmt::format("dwelling {} of {} has more than one row", number, v_.text(name)));
        if (number < 1 || number > t_["dwellings"][at])
          v_.log.add("dwelling-out-of-range", d, row,
                     fmt::format("dwelling {} of {}, which has {}", number, v_.text(name),
                                 cell_text(t_["dwellings"][at])));
        check_dwelling(row, at);
      }
    });
    for (size_t row = 0; row < t_.rows(); ++row) {
      const bool may_lack = !served(row) && counted[row] == 0;
      if (counted[row] == t_["dwellings"][row] || may_lack) continue;
      v_.log.add("dwelling-count-differs", t_, row,
                 fmt::format("{} has {} dwellings, {} have a row", v_.text(name_[row]),
                             cell_text(t_["dwellings"][row]), counted[row]));
    }
  }

  void check_dwelling(uint32_t row, int64_t at) const {
    const WrittenTable& d = v_.dwellings;
    const int64_t state = d["state"][row];
    const bool planned = state_[at] == lit_ || state_[at] == reserved_;
    const std::string name =
        fmt::format("dwelling {} of {}", cell_text(d["number"][row]), v_.text(d["premises"][row]));
    if (state_[at] == v_.word("not planned"))
      v_.log.add("never-planned", d, row, fmt::format("{} is not to be connected", name));
    else if (state != (planned ? state_[at] : v_.word("unlit")))
      v_.log.add("dwelling-state-differs", d, row,
                 fmt::format("{} is {}, its premises {}", name, v_.text(state), v_.text(state_[at])));
    if (!planned) return;
    if (d["link"][row] != link_[at])
      v_.log.add("dwelling-link-differs", d, row,
                 fmt::format("{} is served by link {}, its premises by link {}", name,
                             cell_text(d["link"][row]), cell_text(link_[at])));
    const bool port = d["splitter"][row] != no_cell && d["port"][row] != no_cell;
    if (d["pon"][row] == no_cell || (!port && !v_.plan.scenario.layout_rules->split.empty()))
      v_.log.add("dwelling-dark", d, row, fmt::format("{} has no splitter port or no PON", name));
  }

  const AuditView& v_;
  const WrittenTable& t_;
  const Cells &name_, &state_, &link_;
  const int64_t lit_, reserved_;
};

}  // namespace

void check_premises(const AuditView& view) {
  PremisesChecker(view).check();
}

}  // namespace plan
