#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "audit/checks.h"

namespace plan {
namespace {

// Splices and fibres of the stations, counted again from splitters, dwellings and links: each splitter and
// dwelling wants one fibre from the station that lights it, through every station between.
class FibreCount {
 public:
  explicit FibreCount(const AuditView& view)
      : feed(view.stations.rows(), 0),
        splices(view.stations.rows(), 0),
        all_splices(view.stations.rows(), 0),
        v_(view) {
    for (size_t s = 0; s < t_.rows(); ++s) splitter(s);
    for (size_t d = 0; d < v_.dwellings.rows(); ++d) dwelling(d);
  }

  Cells feed, splices, all_splices;  // by station

 private:
  void splitter(size_t s) {
    const int64_t up = t_["upstream"][s], here = station_[s];
    const bool inside = up != no_cell && station_[up] == here, fitted = fitted_now(s);
    const bool plugged = inside && (has_connectors(static_cast<int64_t>(s)) || has_connectors(up));
    const bool on_cable = !inside && v_.stations["kind"][here] != headend_;
    if (on_cable || (inside && !plugged)) count(here, fitted);  // its input
    if (inside) return;
    if (up != no_cell)
      count(station_[up], fitted && fitted_now(static_cast<size_t>(up)));  // the output that feeds it
    climb(here, station_[up], no_cell);
  }

  void dwelling(size_t d) {
    const WrittenTable& t = v_.dwellings;
    const int64_t link = t["link"][d], splitter = t["splitter"][d];
    if (link == no_cell) return;
    if (splitter != no_cell)
      count(station_[splitter], t["state"][d] == lit_ && fitted_now(static_cast<size_t>(splitter)));
    const int64_t inner = v_.links["to station"][link];
    if (inner != no_cell)
      climb(inner, station_[splitter], no_cell);
    else
      climb(v_.links["from station"][link], station_[splitter], link);
  }

  // Upwards from `at`, where the fibre begins or, unsplit, arrives on `link`, to the station that lights it.
  void climb(int64_t at, int64_t lit_by, int64_t link) {
    while (at != no_cell && at != lit_by) {
      if (link != no_cell) count(at, blown_at_build(v_, link));
      const int64_t above = v_.stations["upstream"][at];
      if (above == no_cell || above >= at) return;
      feed.add(at, 1);
      link = v_.feeds[at];
      at = above;
    }
  }

  void count(int64_t station, bool at_build) {
    all_splices.add(station, 1);
    if (at_build) splices.add(station, 1);
  }
  bool fitted_now(size_t splitter) const { return t_["fitted"][splitter] == day_one_; }
  bool has_connectors(int64_t splitter) const {
    const SplitterType* type = v_.splitter_type(t_["type"][splitter]);
    return type != nullptr && type->connectorised;
  }

  const AuditView& v_;
  const WrittenTable& t_ = v_.splitters;
  const Cells& station_ = t_["station"];
  const int64_t headend_ = v_.word("headend"), lit_ = v_.word("lit"), day_one_ = v_.word("day one");
};

class FibreChecker {
 public:
  explicit FibreChecker(const AuditView& view) : v_(view) {}

  void check() {
    check_units();
    check_feeds();
    check_links();
    check_stations(FibreCount(v_));
  }

 private:
  // Fibres of the units to premises; a dwelling lit by a splitter in its own building has none.
  void check_units() const {
    const WrittenTable& d = v_.dwellings;
    const Cells &link = d["link"], &fibre = d["fibre"];
    std::vector<std::tuple<int64_t, int64_t, size_t>> used;
    for (size_t row = 0; row < d.rows(); ++row) {
      const int64_t splitter = d["splitter"][row], inner = v_.links["to station"][link[row]];
      const bool own = splitter != no_cell && inner != no_cell && v_.splitters["station"][splitter] == inner;
      if (link[row] == no_cell) continue;
      if (own == (fibre[row] != no_cell))
        v_.log.add("fibre-missing", d, row,
                   own ? "lit inside its building, but names a fibre of the unit"
                       : "no fibre of its unit leads to it");
      if (fibre[row] == no_cell) continue;
      used.emplace_back(link[row], fibre[row], row);
      check_fibre(row);
    }
    std::sort(used.begin(), used.end());
    for (size_t i = 1; i < used.size(); ++i)
      if (std::get<0>(used[i]) == std::get<0>(used[i - 1]) &&
          std::get<1>(used[i]) == std::get<1>(used[i - 1]))
        v_.log.add("fibre-used-twice", d, std::get<2>(used[i]),
                   fmt::format("fibre {} of link {} lights two dwellings", std::get<1>(used[i]),
                               std::get<0>(used[i])));
  }

  void check_fibre(size_t row) const {
    const WrittenTable& d = v_.dwellings;
    const int64_t link = d["link"][row], fibre = d["fibre"][row], there = v_.links["fibres"][link];
    if (fibre < 1 || (there != no_cell && fibre > there))
      return v_.log.add("fibre-out-of-range", d, row,
                        fmt::format("fibre {} of link {}, which has {}", fibre, link, cell_text(there)));
    const Cable* cable = v_.cable(v_.links["cable"][link]);
    if (cable == nullptr) return;
    const std::string colour = colour_of(v_.plan.scenario.fibre_catalogue->colour_codes, cable->colour_code,
                                         static_cast<int>(fibre));
    if (v_.plan.words[d["fibre colour"][row]] != colour)
      v_.log.add("colour-differs", d, row,
                 fmt::format("fibre {} is {}, not {}", fibre, colour, v_.plan.words[d["fibre colour"][row]]));
  }

  void check_feeds() const {
    const WrittenTable& t = v_.splitters;
    std::vector<std::tuple<int64_t, int64_t, size_t>> used;
    for (size_t s = 0; s < t.rows(); ++s) {
      const int64_t fibre = t["feed fibre"][s], station = t["station"][s];
      if (fibre == no_cell) continue;
      used.emplace_back(station, fibre, s);
      if (fibre < 1 || fibre > v_.stations["feed fibres"][station])
        v_.log.add("fibre-out-of-range", t, s,
                   fmt::format("feed fibre {} of station {}, which uses {}", fibre, station,
                               cell_text(v_.stations["feed fibres"][station])));
    }
    std::sort(used.begin(), used.end());
    for (size_t i = 1; i < used.size(); ++i)
      if (std::get<0>(used[i]) == std::get<0>(used[i - 1]) &&
          std::get<1>(used[i]) == std::get<1>(used[i - 1]))
        v_.log.add("feed-fibre-twice", t, std::get<2>(used[i]),
                   fmt::format("feed fibre {} of station {} feeds two splitters", std::get<1>(used[i]),
                               std::get<0>(used[i])));
  }

  void check_links() const {
    for (size_t l = 0; l < v_.links.rows(); ++l) {
      const int64_t to = v_.links["to station"][l];
      const int64_t premises = v_.premises_by_name[v_.links["premises"][l]];
      const int64_t expected =
          to != no_cell ? v_.stations["feed fibres"][to] : v_.premises["dwellings"][premises];
      if (v_.links["fibres used"][l] != expected)
        v_.log.add("link-fibres-differ", v_.links, l,
                   fmt::format("{} fibres used, its end needs {}", cell_text(v_.links["fibres used"][l]),
                               cell_text(expected)));
    }
  }

  void check_stations(const FibreCount& count) const {
    const WrittenTable& t = v_.stations;
    Cells premises(t.rows(), 0), dwellings(t.rows(), 0), entries(t.rows(), 0), day_one(t.rows(), 0),
        ultimate(t.rows(), 0);
    for (size_t l = 0; l < v_.links.rows(); ++l) {
      entries.add(v_.links["from station"][l], 1);
      const int64_t name = v_.links["premises"][l], to = v_.links["to station"][l];
      if (name == no_cell) continue;
      const int64_t by = to != no_cell ? to : v_.links["from station"][l];
      premises.add(by, 1);
      dwellings.add(by, or_zero(v_.premises["dwellings"][v_.premises_by_name[name]]));
    }
    for (size_t s = 0; s < v_.splitters.rows(); ++s) {
      ultimate.add(v_.splitters["station"][s], 1);
      if (v_.splitters["fitted"][s] == v_.word("day one")) day_one.add(v_.splitters["station"][s], 1);
    }
    const int64_t per_tray = std::max(1, v_.plan.scenario.fibre_rules->splices_per_tray);
    for (size_t s = 0; s < t.rows(); ++s) {
      same(s, "premises served", premises[s]);
      same(s, "dwellings served", dwellings[s]);
      same(s, "splitters day one", day_one[s]);
      same(s, "splitters ultimate", ultimate[s]);
      same(s, "feed fibres", count.feed[s]);
      same(s, "splices", count.splices[s]);
      same(s, "trays", (count.all_splices[s] + per_tray - 1) / per_tray);
      check_limits(s, entries[s]);
    }
  }

  void same(size_t station, std::string_view column, int64_t counted) const {
    const int64_t written = v_.stations[column][station];
    if (written != counted)
      v_.log.add("station-count-differs", v_.stations, station,
                 fmt::format("{} {}, counted {}", column, cell_text(written), counted));
  }

  void check_limits(size_t s, int64_t entries) const {
    const WrittenTable& t = v_.stations;
    const std::string name = v_.station_name(static_cast<int64_t>(s));
    const auto hold = [&](std::string_view what, int64_t actual, std::string_view limit,
                          std::string_view found) {
      const int64_t most = t[limit][s];
      if (most == no_cell || actual <= most || v_.found.at(found, name)) return;
      v_.log.add("station-limit-exceeded", t, s,
                 fmt::format("{} {} of {} exceed limit {}", actual, what, name, most));
    };
    const bool headend = t["kind"][s] == v_.word("headend");
    if (!headend) hold("microduct entries", entries, "microduct entries limit", "cabinet-entries-exceeded");
    if (headend && !v_.found.anywhere("drop-duct-too-long"))
      hold("premises served", t["premises served"][s], "microduct entries limit", "cabinet-entries-exceeded");
    hold("dwellings served", t["dwellings served"][s], "drop fibres limit", "cabinet-fibres-exceeded");
    hold("splitters", t["splitters ultimate"][s], "splitter slots limit", "cabinet-splitters-exceeded");
    hold("trays", t["trays"][s], "trays limit", "trays-exceeded");
  }

  const AuditView& v_;
};

}  // namespace

bool blown_at_build(const AuditView& view, int64_t link) {
  const int64_t row = view.premises_by_name[view.links["premises"][link]];
  return row == no_cell || view.premises["state"][row] != view.word("reserved");
}

void check_fibres(const AuditView& view) {
  FibreChecker(view).check();
}

}  // namespace plan
