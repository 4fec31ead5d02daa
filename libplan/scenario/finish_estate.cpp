#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.h"
#include "scenario/finish.h"
#include "scenario/projection.h"

namespace plan {

namespace {

constexpr int64_t farthest_mm = 500'000'000;          // of anything from the origin
constexpr int64_t plain_mm = 1'000'000'000;           // coordinates below this need no other origin
constexpr int64_t origin_grid_mm = 10'000'000;        // origins stand on whole 10 km
constexpr int64_t origin_grid_degrees = 100'000'000;  // or whole tenths of a degree

int64_t on_grid(int64_t v, int64_t grid) {
  return static_cast<int64_t>(std::floor(static_cast<double>(v) / static_cast<double>(grid) + 0.5)) * grid;
}

int64_t lower_median(std::vector<int64_t> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>((values.size() - 1) / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// The middle of the premises, coarsely: a premises more or less rarely moves the plane.
Point middle(const EstateDraft& e, int64_t grid) {
  std::vector<int64_t> x, y;
  for (const PremisesRow& row : e.premises) x.push_back(row.premises.at.x), y.push_back(row.premises.at.y);
  return {on_grid(lower_median(std::move(x)), grid), on_grid(lower_median(std::move(y)), grid)};
}

template <class F>
void for_each_point(Draft& d, F&& f) {
  for (auto* rows : {&d.estate.premises, &d.estate.added})
    for (PremisesRow& row : *rows) {
      f(row.premises.at, row.spot, row.premises.name);
      if (row.premises.drop_stated) f(row.premises.drop_from, row.spot, row.premises.name);
    }
  for (RouteRow& row : d.estate.routes)
    for (Point& p : row.route.line) f(p, row.spot, row.route.name);
  for (SiteRow& row : d.estate.sites) f(row.site.at, row.spot, row.site.name);
  for (HeadendRow& row : d.headends) f(row.headend.at, row.spot, row.headend.name);
}

void to_plane(Draft& d, Demand& demand) {
  demand.geographic = d.estate.coordinates == Coordinates::longitude_latitude;
  if (demand.geographic) {
    const Point m = middle(d.estate, origin_grid_degrees);
    demand.origin_longitude = static_cast<double>(m.x) / 1e9;
    demand.origin_latitude = static_cast<double>(m.y) / 1e9;
    const Projection projection({demand.origin_longitude, demand.origin_latitude});
    for_each_point(d, [&](Point& p, const Spot&, const std::string&) {
      p = projection.plane({static_cast<double>(p.x) / 1e9, static_cast<double>(p.y) / 1e9});
    });
    return;
  }
  const Point m = middle(d.estate, origin_grid_mm);
  if (std::abs(m.x) < plain_mm && std::abs(m.y) < plain_mm) return;
  demand.origin_east = m.x / 1000, demand.origin_north = m.y / 1000;
  for_each_point(d, [&](Point& p, const Spot&, const std::string&) { p.x -= m.x, p.y -= m.y; });
}

// Positions that could not be read stand at zero: where anything was at fault this is not asked.
void refuse_far(const Finish& f, Draft& d) {
  if (!f.reading.faults.none()) return;
  const Spot* told = nullptr;  // a line is told once, not once a point
  for_each_point(d, [&](const Point& p, const Spot& at, const std::string& name) {
    const double km = std::hypot(static_cast<double>(p.x), static_cast<double>(p.y)) / 1e6;
    if (km <= static_cast<double>(farthest_mm) / 1e6 || told == &at) return;
    told = &at;
    f.fault(at, [&] {
      return fmt::format("'{}' lies {} km from the middle of the estate, at most {} are planned", shown(name),
                         shortest(std::round(km * 1000) / 1000), farthest_mm / 1'000'000);
    });
  });
}

// Rows in the order of their names; the second of two equal names is a fault at its spot.
template <class Row, class Name>
std::vector<uint32_t> by_name(const Finish& f, const std::vector<Row>& rows, std::string_view what,
                              Name name) {
  std::vector<uint32_t> order(rows.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(),
                   [&](uint32_t a, uint32_t b) { return name(rows[a]) < name(rows[b]); });
  for (size_t i = 1; i < order.size(); ++i) {
    const Row &a = rows[order[i - 1]], &b = rows[order[i]];
    if (name(a) != name(b) || name(a).empty()) continue;
    f.fault(b.spot, [&] {
      const Place first = spot_place(f.reading, a.spot);
      return fmt::format("two {} are called '{}', the first in {}:{}", what, shown(name(b)), first.file,
                         first.line);
    });
  }
  return order;
}

// Only the faults of that: where no two names share a hash there are none, and a million need not be sorted.
template <class Row, class Name>
void check_names(const Finish& f, const std::vector<Row>& rows, std::string_view what, Name name) {
  std::vector<uint64_t> hashes;
  hashes.reserve(rows.size());
  for (const Row& row : rows)
    if (!name(row).empty()) hashes.push_back(hash64(name(row)));
  std::sort(hashes.begin(), hashes.end());
  if (std::adjacent_find(hashes.begin(), hashes.end()) != hashes.end()) by_name(f, rows, what, name);
}

template <class Row, class Name>
Row* find_row(std::vector<Row>& rows, const std::vector<uint32_t>& order, std::string_view wanted,
              Name name) {
  const auto at = std::lower_bound(order.begin(), order.end(), wanted,
                                   [&](uint32_t i, std::string_view w) { return name(rows[i]) < w; });
  return at != order.end() && name(rows[*at]) == wanted ? &rows[*at] : nullptr;
}

// Candidates for a suggestion: all names, or in a large table those that begin alike.
template <class Row, class Name>
std::string near_name(const std::vector<Row>& rows, const std::vector<uint32_t>& order,
                      std::string_view wanted, Name name) {
  constexpr size_t few = 5000;
  std::vector<std::string_view> candidates;
  for (const uint32_t i : order)
    if (rows.size() <= few || std::string_view(name(rows[i])).substr(0, 3) == wanted.substr(0, 3))
      candidates.push_back(name(rows[i]));
  if (candidates.size() > few) candidates.resize(few);
  return suggestion(wanted, candidates);
}

template <class Row, class Name, class Mark>
void apply(const Finish& f, const std::vector<Reason>& reasons, std::vector<Row>& rows, std::string_view what,
           const std::vector<uint32_t>& order, Name name, Mark mark) {
  if (rows.empty()) return;  // said already
  for (const Reason& reason : reasons) {
    if (Row* row = find_row(rows, order, reason.name, name)) {
      mark(*row, reason);
    } else {
      f.fault(reason.spot, [&] {
        return fmt::format("no {} is called '{}'{}", what, shown(reason.name),
                           near_name(rows, order, reason.name, name));
      });
    }
  }
}

const std::string& premises_name(const PremisesRow& r) {
  return r.premises.name;
}
const std::string& route_name(const RouteRow& r) {
  return r.route.name;
}
const std::string& site_name(const SiteRow& r) {
  return r.site.name;
}
const std::string& headend_name(const HeadendRow& r) {
  return r.headend.name;
}

void finish_premises(const Finish& f, EstateDraft& e) {
  std::vector<PremisesRow>& rows = e.premises;
  if (!e.left_out.empty()) {
    const auto order = by_name(f, rows, "premises", premises_name);
    std::vector<char> dropped(rows.size(), 0);
    apply(f, e.left_out, rows, "premises", order, premises_name,
          [&](PremisesRow& row, const Reason&) { dropped[static_cast<size_t>(&row - rows.data())] = 1; });
    size_t kept = 0;
    for (size_t i = 0; i < rows.size(); ++i)
      if (!dropped[i] && kept++ != i) rows[kept - 1] = std::move(rows[i]);
    rows.resize(kept);
  }
  std::move(e.added.begin(), e.added.end(), std::back_inserter(rows));
  check_names(f, rows, "premises", premises_name);
  for (const PremisesRow& row : rows)
    if (row.premises.riser > Length() && !row.premises.building_point)
      f.fault(row.spot, [&] {
        return fmt::format("premises '{}' has a riser of {} m, but no building point",
                           shown(row.premises.name), metres_text(row.premises.riser, 1));
      });
}

// A place that repeats the one before it, with its height.
void drop_repeated(Route& r) {
  size_t kept = 1;
  for (size_t i = 1; i < r.line.size(); ++i) {
    if (r.line[i] == r.line[kept - 1]) continue;
    r.line[kept] = r.line[i];
    if (!r.heights.empty()) r.heights[kept] = r.heights[i];
    ++kept;
  }
  r.line.resize(kept);
  if (!r.heights.empty()) r.heights.resize(kept);
}

void refuse_duct_facts(const Finish& f, const RouteRow& row) {
  const Route& r = row.route;
  const char* fact = r.state != DuctState::proven ? "state"
                     : !r.content.empty()         ? "content"
                     : !r.owner.empty()           ? "owner"
                     : !r.hire_price.empty()      ? "hire price"
                                                  : nullptr;
  if (fact && !r.existing_duct)
    f.fault(row.spot,
            [&] { return fmt::format("route '{}' has '{}', but its kind is trench", shown(r.name), fact); });
  if (r.existing_duct && r.crossing.valid())
    f.fault(row.spot, [&] {
      return fmt::format("existing duct '{}' has 'crossing', but nothing is built there", shown(r.name));
    });
}

void finish_route(const Finish& f, const Names& names, RouteRow& row) {
  Route& r = row.route;
  r.forbidden = !r.forbidden_why.empty();
  r.existing_duct = row.kind == RouteKind::existing_duct;
  if (row.kind == RouteKind::aerial || r.method == "aerial")
    f.fault(row.spot,
            [&] { return fmt::format("route '{}' is aerial: aerial plant is not planned", shown(r.name)); });
  if (r.existing_duct && r.bore == Length())
    f.fault(row.spot, [&] { return fmt::format("existing duct '{}' needs 'bore'", shown(r.name)); });
  if (!r.existing_duct && r.bore != Length())
    f.fault(row.spot,
            [&] { return fmt::format("route '{}' has a bore, but its kind is trench", shown(r.name)); });
  refuse_duct_facts(f, row);
  if (!row.surface_given) {
    if (const uint32_t id = names.find(Refers::surfaces, "existing duct");
        r.existing_duct && id != UINT32_MAX)
      r.surface = SurfaceId(id);
    else
      f.fault(row.spot, [&] { return fmt::format("route '{}' needs 'surface'", shown(r.name)); });
  }
  if (r.line.empty()) return;  // said already
  drop_repeated(r);
  if (r.line.size() < 2)
    f.fault(row.spot, [&] { return fmt::format("route '{}' has no length", shown(r.name)); });
}

void finish_routes(const Finish& f, Draft& d) {
  for (RouteRow& row : d.estate.routes) finish_route(f, f.reading.names, row);
  const auto order = by_name(f, d.estate.routes, "routes", route_name);
  apply(f, d.estate.forbidden_routes, d.estate.routes, "route", order, route_name,
        [](RouteRow& row, const Reason& why) {
          row.route.forbidden = true;
          row.route.forbidden_why = why.why;
        });
}

void finish_sites(const Finish& f, Draft& d) {
  for (SiteRow& row : d.estate.sites) row.site.forbidden = !row.site.why.empty();
  const auto order = by_name(f, d.estate.sites, "sites", site_name);
  apply(f, d.estate.forbidden_sites, d.estate.sites, "site", order, site_name,
        [](SiteRow& row, const Reason& why) {
          row.site.forbidden = true;
          row.site.why = why.why;
        });
  check_names(f, d.headends, "headends", headend_name);
}

// Canonical order: along the Hilbert curve, then by name.
template <class Row, class At, class Name>
std::vector<uint32_t> canonical(const std::vector<Row>& rows, At at, Name name) {
  std::vector<std::pair<uint64_t, uint32_t>> keys(rows.size());
  for (size_t i = 0; i < rows.size(); ++i) keys[i] = {hilbert(at(rows[i])), static_cast<uint32_t>(i)};
  std::sort(keys.begin(), keys.end(), [&](const auto& a, const auto& b) {
    return a.first != b.first ? a.first < b.first : name(rows[a.second]) < name(rows[b.second]);
  });
  std::vector<uint32_t> order(rows.size());
  std::transform(keys.begin(), keys.end(), order.begin(), [](const auto& k) { return k.second; });
  return order;
}

RowPlace row_place(const Spot& spot) {
  return {spot.line, spot.column, spot.file};
}

// Rows are given up as soon as their table stands: of a million premises there are never two of each.
void fill_tables(const Finish& f, Draft& d, Demand& demand, Scenario& into) {
  EstateDraft& e = d.estate;
  demand.premises.reserve(e.premises.size());
  into.premises_places.reserve(e.premises.size());
  for (const uint32_t i : canonical(
           e.premises, [](const PremisesRow& r) { return r.premises.at; }, premises_name)) {
    demand.premises.add(std::move(e.premises[i].premises));
    into.premises_places.add(row_place(e.premises[i].spot));
  }
  e.premises = decltype(e.premises)();  // `= {}` would keep the room
  demand.routes.reserve(e.routes.size());
  into.route_places.reserve(e.routes.size());
  const auto first_point = [](const RouteRow& r) {
    return r.route.line.empty() ? Point{} : r.route.line.front();
  };
  for (const uint32_t i : canonical(e.routes, first_point, route_name)) {
    demand.routes.add(std::move(e.routes[i].route));
    into.route_places.add(row_place(e.routes[i].spot));
  }
  e.routes = decltype(e.routes)();
  for (const uint32_t i : canonical(
           d.headends, [](const HeadendRow& r) { return r.headend.at; }, headend_name))
    demand.headends.add(std::move(d.headends[i].headend));
  for (const uint32_t i : canonical(
           e.sites, [](const SiteRow& r) { return r.site.at; }, site_name))
    demand.sites.add(std::move(e.sites[i].site));
  into.row_files = f.reading.file_names;
}

}  // namespace

void finish_estate(const Finish& f, Draft& draft, Scenario& into) {
  Demand demand;
  demand.name = draft.name;
  demand.reference_system = draft.estate.reference_system;
  for (const SurfaceRow& row : draft.surfaces) {
    demand.surfaces.add(row.name);
    demand.usual_methods.add(row.usual_method);
  }
  for (const CrossingRow& row : draft.crossings) {
    demand.crossings.add(row.name);
    demand.crossing_builders.add(row.built_by);
  }
  to_plane(draft, demand);
  refuse_far(f, draft);
  finish_premises(f, draft.estate);
  finish_routes(f, draft);
  finish_sites(f, draft);
  fill_tables(f, draft, demand, into);
  into.demand = Slice<Demand>(std::move(demand));
}

}  // namespace plan
