#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "audit/checks.h"

namespace plan {
namespace {

class SplitterChecker {
 public:
  explicit SplitterChecker(const AuditView& view) : v_(view) {}

  void check() {
    for (size_t s = 0; s < t_.rows(); ++s) {
      check_type(s);
      check_upstream(s);
      check_feed(s);
    }
    for (size_t d = 0; d < d_.rows(); ++d) check_dwelling(d);
    check_ports();
    check_pons();
  }

 private:
  int64_t stages() const { return static_cast<int64_t>(v_.plan.scenario.layout_rules->split.size()); }
  bool at_headend(int64_t station) const { return v_.stations["kind"][station] == headend_; }

  void check_type(size_t s) const {
    const int64_t name = t_["type"][s];
    if (name == no_cell) {
      if (!v_.found.anywhere("splitter-missing"))
        v_.log.add("splitter-type-differs", t_, s, "it has no type and no finding says why");
      return;
    }
    const SplitterType* type = v_.splitter_type(name);
    const bool in_split = stage_[s] >= 1 && stage_[s] <= stages();
    const int64_t ratio =
        in_split ? v_.plan.scenario.layout_rules->split[static_cast<size_t>(stage_[s] - 1)].ratio : 0;
    if (type == nullptr || type->ports != ports_[s] || ports_[s] != ratio)
      v_.log.add("splitter-type-differs", t_, s,
                 fmt::format("'{}' with {} ports in stage {}, whose ratio is 1:{}", v_.plan.words[name],
                             cell_text(ports_[s]), cell_text(stage_[s]), ratio));
  }

  // Stages follow one another outwards; ids too, so that no chain runs in a circle.
  void check_upstream(size_t s) const {
    const int64_t up = upstream_[s];
    if ((up != no_cell) != (t_["upstream port"][s] != no_cell))
      v_.log.add("splitter-port-missing", t_, s, "upstream splitter and port of it belong together");
    if (up == no_cell) {
      if (stage_[s] != 1)
        v_.log.add("stage-skipped", t_, s,
                   fmt::format("stage {} is fed by an OLT port", cell_text(stage_[s])));
      return;
    }
    if (up >= static_cast<int64_t>(s))
      v_.log.add("splitter-cycle", t_, s, fmt::format("fed by splitter {}, which comes after it", up));
    if (stage_[up] != or_zero(stage_[s]) - 1)
      v_.log.add("stage-skipped", t_, s,
                 fmt::format("stage {} is fed by stage {}", cell_text(stage_[s]), cell_text(stage_[up])));
    if (pon_[up] != pon_[s])
      v_.log.add("pon-differs", t_, s,
                 fmt::format("on PON {}, the splitter that feeds it on PON {}", cell_text(pon_[s]),
                             cell_text(pon_[up])));
    if (!upstream_station(station_[s], station_[up]))
      v_.log.add("splitter-not-upstream", t_, s,
                 fmt::format("splitter {} stands in station {}, which does not feed station {}", up,
                             cell_text(station_[up]), cell_text(station_[s])));
  }

  bool upstream_station(int64_t station, int64_t wanted) const {
    const Cells& up = v_.stations["upstream"];
    while (station != no_cell && station != wanted && up[station] < station) station = up[station];
    return station == wanted;
  }

  void check_feed(size_t s) const {
    const bool inside =
        at_headend(station_[s]) || (upstream_[s] != no_cell && station_[upstream_[s]] == station_[s]);
    const bool fed = t_["feed fibre"][s] != no_cell;
    if (fed == inside)
      v_.log.add("splitter-unfed", t_, s,
                 inside ? "fed inside its station, but names a fibre of the feed"
                        : "no fibre of its station's feed leads to it");
  }

  void check_dwelling(size_t d) const {
    const int64_t splitter = d_["splitter"][d], pon = d_["pon"][d];
    if (splitter == no_cell) return;
    if (stage_[splitter] != stages())
      v_.log.add("stage-skipped", d_, d,
                 fmt::format("lit by stage {} of {}", cell_text(stage_[splitter]), stages()));
    if (pon_[splitter] != pon)
      v_.log.add("pon-differs", d_, d,
                 fmt::format("on PON {}, its splitter on PON {}", cell_text(pon), cell_text(pon_[splitter])));
    const int64_t link = d_["link"][d];
    const int64_t end = v_.links["to station"][link] != no_cell ? v_.links["to station"][link]
                                                                : v_.links["from station"][link];
    if (!upstream_station(end, station_[splitter]))
      v_.log.add("splitter-not-upstream", d_, d,
                 fmt::format("splitter {} stands in station {}, which does not feed link {}", splitter,
                             cell_text(station_[splitter]), cell_text(link)));
  }

  struct Used {
    int64_t splitter, port;
    bool by_dwelling;
    uint32_t row;
  };

  void check_ports() const {
    std::vector<Used> used;
    const auto take = [&](const WrittenTable& table, std::string_view splitter, std::string_view port,
                          bool by_dwelling) {
      const Cells &at = table[splitter], &number = table[port];
      for (size_t row = 0; row < table.rows(); ++row)
        if (at[row] != no_cell)
          used.push_back({at[row], number[row], by_dwelling, static_cast<uint32_t>(row)});
    };
    take(d_, "splitter", "port", true);
    take(t_, "upstream", "upstream port", false);
    std::stable_sort(used.begin(), used.end(), [](const Used& a, const Used& b) {
      return std::tie(a.splitter, a.port) < std::tie(b.splitter, b.port);
    });
    for (size_t i = 0; i < used.size(); ++i) {
      const Used& u = used[i];
      const WrittenTable& table = u.by_dwelling ? d_ : t_;
      if (u.port == no_cell) continue;
      if (i > 0 && used[i - 1].splitter == u.splitter && used[i - 1].port == u.port)
        v_.log.add("port-used-twice", table, u.row,
                   fmt::format("port {} of splitter {} is used twice", u.port, u.splitter));
      if (u.port < 1 || (ports_[u.splitter] != no_cell && u.port > ports_[u.splitter]))
        v_.log.add("port-out-of-range", table, u.row,
                   fmt::format("port {} of splitter {}, which has {}", u.port, u.splitter,
                               cell_text(ports_[u.splitter])));
    }
  }

  // Each PON is one OLT port that feeds one splitter, or one dwelling where nothing is split.
  void check_pons() const {
    const WrittenTable& p = v_.pons;
    Cells fed(p.rows(), 0), all(p.rows(), 0), lit(p.rows(), 0), headend(p.rows());
    for (size_t s = 0; s < t_.rows(); ++s) {
      if (upstream_[s] != no_cell) continue;
      fed.add(pon_[s], 1);
      headend.set(pon_[s], v_.stations["headend"][station_[s]]);
    }
    for (size_t d = 0; d < d_.rows(); ++d) {
      const int64_t pon = d_["pon"][d];
      all.add(pon, 1);
      if (d_["state"][d] == v_.word("lit")) lit.add(pon, 1);
      if (d_["splitter"][d] == no_cell) fed.add(pon, 1);
    }
    for (size_t row = 0; row < p.rows(); ++row) {
      if (fed[row] != 1)
        v_.log.add(fed[row] > 1 ? "pon-fed-twice" : "pon-unused", p, row,
                   fmt::format("{} splitters or dwellings are fed by its OLT port", fed[row]));
      if (headend[row] != no_cell && headend[row] != p["headend"][row])
        v_.log.add("pon-headend-differs", p, row,
                   fmt::format("its first splitter is fed by {}", v_.plan.words[headend[row]]));
      const int64_t day_one = p["dwellings day one"][row];
      const int64_t most = v_.plan.scenario.fibre_rules->reserve_all_ports
                               ? lit[row]
                               : all[row];  // else the port follows the order
      if (p["dwellings ultimate"][row] != all[row] || day_one < 0 || day_one > most)
        v_.log.add(
            "pon-count-differs", p, row,
            fmt::format("{} dwellings day one and {} in all; {} are lit, {} planned", cell_text(day_one),
                        cell_text(p["dwellings ultimate"][row]), lit[row], all[row]));
    }
    check_olt_ports();
  }

  void check_olt_ports() const {
    const WrittenTable& p = v_.pons;
    std::vector<std::tuple<int64_t, int64_t, size_t>> ports;
    for (size_t row = 0; row < p.rows(); ++row) ports.emplace_back(p["headend"][row], p["port"][row], row);
    std::sort(ports.begin(), ports.end());
    for (size_t i = 0; i < ports.size(); ++i) {
      const auto [name, port, row] = ports[i];
      if (i > 0 && std::get<0>(ports[i - 1]) == name && std::get<1>(ports[i - 1]) == port)
        v_.log.add("olt-port-twice", p, row,
                   fmt::format("OLT port {} of {} feeds two PONs", cell_text(port), v_.plan.words[name]));
      if (port < 1 || port > olt_limit(name))
        v_.log.add("olt-port-out-of-range", p, row,
                   fmt::format("OLT port {} of {}", cell_text(port), v_.plan.words[name]));
    }
  }

  int64_t olt_limit(int64_t name) const {
    for (const Headend& h : v_.plan.scenario.demand->headends)
      if (h.name == v_.plan.words[name] && h.olt_ports > 0 &&
          !v_.found.at("olt-ports-exceeded", "headend " + h.name))
        return h.olt_ports;
    return INT64_MAX;
  }

  const AuditView& v_;
  const WrittenTable &t_ = v_.splitters, &d_ = v_.dwellings;
  const Cells &station_ = t_["station"], &stage_ = t_["stage"], &ports_ = t_["ports"],
              &upstream_ = t_["upstream"], &pon_ = t_["pon"];
  const int64_t headend_ = v_.word("headend");
};

}  // namespace

void check_splitters(const AuditView& view) {
  SplitterChecker(view).check();
}

}  // namespace plan
