#include "estate/headends.h"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>
#include <span>
#include <tuple>

#include "graph/segment_index.h"

namespace withy {
namespace {

using plan::Point;

// Premises in order from west to east and from south to north.
struct Members {
  std::span<uint32_t> by_x, by_y;
};

// Cuts premises into parts by lines across their longer side. Sorted once; a cut keeps both orders.
class Cutter {
 public:
  Cutter(Draft& draft, int64_t most) : draft_(draft), most_(most), is_first_(draft.premises.size(), 0) {}

  // One headend for each part of `members`, placed on `streets`.
  void place(std::span<uint32_t> members, const plan::SegmentIndex& streets,
             std::span<const plan::Segment> vertices) {
    std::vector<uint32_t> other(members.begin(), members.end());
    sort_by(members, &Point::x, &Point::y);
    sort_by(other, &Point::y, &Point::x);
    cut({members, other}, streets, vertices);
  }

 private:
  void cut(Members members, const plan::SegmentIndex& streets, std::span<const plan::Segment> vertices) {
    const int64_t all = dwellings(members.by_x);
    const int64_t parts = (all + most_ - 1) / most_;
    if (parts <= 1 || members.by_x.size() == 1) {
      const Point median{middle(members.by_x, &Point::x), middle(members.by_y, &Point::y)};
      draft_.headends.push_back({fmt::format("Headend {}", draft_.headends.size() + 1),
                                 vertices[streets.nearest(median)->segment].a, all});
      return;
    }
    const bool wide = extent(members.by_x, &Point::x) >= extent(members.by_y, &Point::y);
    const size_t first = first_part(wide ? members.by_x : members.by_y, all * (parts / 2) / parts);
    divide(wide ? members.by_x : members.by_y, wide ? members.by_y : members.by_x, first);
    cut({members.by_x.first(first), members.by_y.first(first)}, streets, vertices);
    cut({members.by_x.subspan(first), members.by_y.subspan(first)}, streets, vertices);
  }
  // How many of the front have the wanted dwellings together.
  size_t first_part(std::span<const uint32_t> members, int64_t wanted) const {
    size_t first = 0;
    for (int64_t sum = 0; first + 1 < members.size() && (first == 0 || sum + of(members[first]) <= wanted);)
      sum += of(members[first++]);
    return first;
  }
  // The first ones of `order` to the front of `other`, everything else in the order it had.
  void divide(std::span<const uint32_t> order, std::span<uint32_t> other, size_t first) {
    for (size_t i = 0; i < order.size(); ++i) is_first_[order[i]] = i < first;
    std::stable_partition(other.begin(), other.end(), [&](uint32_t m) { return is_first_[m] != 0; });
  }

  int64_t of(uint32_t i) const { return draft_.premises[i].dwellings; }
  Point at(uint32_t i) const { return draft_.premises[i].at; }
  int64_t dwellings(std::span<const uint32_t> members) const {
    return std::accumulate(members.begin(), members.end(), int64_t{0},
                           [&](int64_t sum, uint32_t i) { return sum + of(i); });
  }
  void sort_by(std::span<uint32_t> members, int64_t Point::*first, int64_t Point::*second) const {
    struct Key {  // small ones side by side: rows of premises lie far apart
      int64_t first, second;
      uint32_t member;
    };
    std::vector<Key> keys;
    keys.reserve(members.size());
    for (const uint32_t m : members) keys.push_back({at(m).*first, at(m).*second, m});
    std::sort(keys.begin(), keys.end(), [&](const Key& a, const Key& b) {
      if (a.first != b.first) return a.first < b.first;
      if (a.second != b.second) return a.second < b.second;
      return draft_.premises[a.member].name < draft_.premises[b.member].name;
    });
    for (size_t i = 0; i < keys.size(); ++i) members[i] = keys[i].member;
  }
  int64_t extent(std::span<const uint32_t> sorted, int64_t Point::*axis) const {
    return at(sorted.back()).*axis - at(sorted.front()).*axis;
  }
  // Where half of the dwellings lie on either side.
  int64_t middle(std::span<const uint32_t> sorted, int64_t Point::*axis) const {
    int64_t half = (dwellings(sorted) + 1) / 2;
    for (const uint32_t i : sorted)
      if ((half -= of(i)) <= 0) return at(i).*axis;
    return at(sorted.back()).*axis;
  }

  Draft& draft_;
  int64_t most_;
  std::vector<uint8_t> is_first_;  // by premises, of the cut at hand
};

// Members of every component one after another; those of component c begin at starts[c].
struct Grouped {
  std::vector<uint32_t> members;
  std::vector<size_t> starts;
};

Grouped grouped(std::span<const uint32_t> component_of, size_t components) {
  Grouped out;
  out.starts.assign(components + 1, 0);
  for (const uint32_t c : component_of)
    if (c != no_component) ++out.starts[c + 1];
  std::partial_sum(out.starts.begin(), out.starts.end(), out.starts.begin());
  out.members.resize(out.starts.back());
  std::vector<size_t> next = out.starts;
  for (uint32_t i = 0; i < component_of.size(); ++i)
    if (component_of[i] != no_component) out.members[next[component_of[i]]++] = i;
  return out;
}

// The vertices of a component where a headend may stand: those of streets that a drop may leave.
std::vector<plan::Segment> vertices_of(const Draft& draft, std::span<const uint32_t> routes) {
  std::vector<Point> points;
  for (const uint32_t r : routes)
    if (draft.routes[r].drops)
      points.insert(points.end(), draft.routes[r].line.begin(), draft.routes[r].line.end());
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  std::vector<plan::Segment> vertices;
  for (const Point p : points) vertices.push_back({p, p});
  return vertices;
}

void choose_components(Components& components, int64_t least) {
  DraftComponent* most = nullptr;
  bool any = false;
  for (DraftComponent& c : components.all) {
    c.headend = c.premises > 0 && c.dwellings >= least;
    any = any || c.headend;
    if (c.premises > 0 && (!most || c.dwellings > most->dwellings)) most = &c;
  }
  if (!any && most) most->headend = true;
}

}  // namespace

void propose_headends(Draft& draft, Components& components, const HeadendRules& rules) {
  choose_components(components, rules.least_dwellings);
  Grouped premises = grouped(components.of_premises, components.all.size());
  const Grouped routes = grouped(components.of_route, components.all.size());
  draft.headends.clear();
  Cutter cutter(draft, std::max<int64_t>(1, rules.most_dwellings));
  for (size_t c = 0; c < components.all.size(); ++c) {
    if (!components.all[c].headend) continue;
    const auto part = [c](const Grouped& g, auto& members) {
      return std::span(members).subspan(g.starts[c], g.starts[c + 1] - g.starts[c]);
    };
    const std::vector<plan::Segment> vertices = vertices_of(draft, part(routes, routes.members));
    cutter.place(part(premises, premises.members), plan::SegmentIndex(vertices), vertices);
  }
  measure_gaps(draft, components);
}

void remark_unreached(Draft& draft, const Components& components,
                      const std::function<MapPlace(Point)>& place) {
  for (const DraftComponent& c : components.all) {
    if (c.headend || c.premises == 0) continue;
    const DraftRoute& first = draft.routes[c.first_route];
    const std::string gap =
        c.gap < 0 ? "nothing to join" : fmt::format("{:.1f} m to join it", static_cast<double>(c.gap) / 1000);
    draft.remarks.push_back({RemarkKind::doubtful, "component without a headend", first.id,
                             place(c.gap < 0 ? first.line.front() : c.gap_at),
                             fmt::format("{} premises, {:.3f} km of street, {}", c.premises,
                                         static_cast<double>(c.length) / 1e6, gap)});
  }
}

}  // namespace withy
