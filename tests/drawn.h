// Estates drawn in a few lines, so that case and expectation stand on one screen. Positions in metres.
//
//   Drawn d;
//   d.street("Mill Lane", {{0, 0}, {100, 0}});                       // surface "verge"
//   d.street("Bridge", {{100, 0}, {100, 50}}, "carriageway").forbidden = true;
//   d.duct("old duct", {{0, 0}, {100, 0}}, millimetres(50));          // existing
//   d.premises("1", {20, 10});
//   d.premises("2", {40, 10}).dwellings = 4;                         // any field may be set
//   d.headend("exchange", {0, 5});
//   d.site("corner", {50, 0});
//   Demand estate = d.demand();                                       // in canonical order
//   PremisesId one = premises_named(estate, "1");
//   Demand big = drawn_grid(40, 40, 100, 4);                          // streets of a town, see below
//
// Surfaces are those named so far, in order of first use; "garden" is one of them only if you say
// d.surface("garden"). All names and places are invented.
#pragma once
#include <algorithm>
#include <cmath>
#include <deque>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "base/point.h"
#include "scenario/demand.h"

namespace plan {

struct Metres {
  double x = 0, y = 0;
};
inline Point at(Metres m) {
  return {std::llround(m.x * 1000), std::llround(m.y * 1000)};
}

class Drawn {
 public:
  SurfaceId surface(const std::string& name) {
    for (SurfaceId s : surfaces_.ids())
      if (surfaces_[s] == name) return s;
    return surfaces_.add(name);
  }
  CrossingId crossing(const std::string& name) { return crossings_.add(name); }
  Route& street(const std::string& name, std::vector<Metres> line,
                const std::string& surface_name = "verge") {
    Route r;
    r.name = name;
    for (Metres m : line) r.line.push_back(at(m));
    r.surface = surface(surface_name);
    return routes_.emplace_back(std::move(r));
  }
  Route& duct(const std::string& name, std::vector<Metres> line, Length bore = millimetres(50)) {
    Route& r = street(name, std::move(line));
    r.existing_duct = true;
    r.bore = bore;
    return r;
  }
  Premises& premises(const std::string& name, Metres where) {
    Premises p;
    p.name = name;
    p.at = at(where);
    return premises_.emplace_back(std::move(p));
  }
  Headend& headend(const std::string& name, Metres where) {
    Headend h;
    h.name = name;
    h.at = at(where);
    return headends_.emplace_back(std::move(h));
  }
  Site& site(const std::string& name, Metres where) {
    Site s;
    s.name = name;
    s.at = at(where);
    return sites_.emplace_back(std::move(s));
  }

  Demand demand() const {
    Demand d;
    d.name = "drawn";
    d.surfaces = surfaces_;
    d.crossings = crossings_;
    fill(d.premises, premises_, [](const Premises& p) { return p.at; });
    fill(d.routes, routes_, [](const Route& r) { return r.line.front(); });
    fill(d.headends, headends_, [](const Headend& h) { return h.at; });
    fill(d.sites, sites_, [](const Site& s) { return s.at; });
    return d;
  }

 private:
  template <class T, class Rows, class Where>
  static void fill(T& table, Rows rows, Where where) {
    std::stable_sort(rows.begin(), rows.end(), [&](const auto& a, const auto& b) {
      const uint64_t ha = hilbert(where(a)), hb = hilbert(where(b));
      return ha != hb ? ha < hb : a.name < b.name;
    });
    for (auto& row : rows) table.add(std::move(row));
  }

  Table<SurfaceId, std::string> surfaces_;
  Table<CrossingId, std::string> crossings_;
  std::deque<Premises> premises_;
  std::deque<Route> routes_;
  std::deque<Headend> headends_;
  std::deque<Site> sites_;
};

template <class I, class T>
I named(const Table<I, T>& table, std::string_view name) {
  for (I i : table.ids())
    if (table[i].name == name) return i;
  throw std::out_of_range(std::string(name));
}
inline PremisesId premises_named(const Demand& d, std::string_view name) {
  return named(d.premises, name);
}
inline RouteId route_named(const Demand& d, std::string_view name) {
  return named(d.routes, name);
}
inline HeadendId headend_named(const Demand& d, std::string_view name) {
  return named(d.headends, name);
}
inline SiteId site_named(const Demand& d, std::string_view name) {
  return named(d.sites, name);
}

// A town of columns x rows crossings, `block` metres apart, with `each` premises along every block side
// (spread evenly, 8 m from the street, alternating sides) and one headend beside the first crossing.
inline Demand drawn_grid(int columns, int rows, double block, int each) {
  Drawn d;
  const auto side = [&](Metres a, Metres b) {
    const std::string name = std::to_string(std::llround(a.x)) + "/" + std::to_string(std::llround(a.y)) +
                             (a.x == b.x ? " north" : " east");
    d.street(name, {a, b});
    for (int i = 0; i < each; ++i) {
      const double share = (i + 0.5) / each, off = i % 2 == 0 ? 8 : -8;
      const Metres on{a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
      d.premises(name + " " + std::to_string(i + 1),
                 a.x == b.x ? Metres{on.x + off, on.y} : Metres{on.x, on.y + off});
    }
  };
  for (int y = 0; y < rows; ++y)
    for (int x = 0; x < columns; ++x) {
      const Metres here{x * block, y * block};
      if (x + 1 < columns) side(here, {here.x + block, here.y});
      if (y + 1 < rows) side(here, {here.x, here.y + block});
    }
  d.headend("exchange", {-5, 0});
  return d.demand();
}

}  // namespace plan
