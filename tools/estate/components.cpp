#include "estate/components.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <tuple>

#include "base/parallel.h"
#include "graph/segment_index.h"

namespace withy {
namespace {

using plan::Point;
using plan::Segment;

class Sets {
 public:
  explicit Sets(size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0u); }
  uint32_t root(uint32_t a) {
    while (parent_[a] != a) a = parent_[a] = parent_[parent_[a]];
    return a;
  }
  // The smaller number stays the root: it is the first route of the set.
  void join(uint32_t a, uint32_t b) {
    a = root(a), b = root(b);
    parent_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<uint32_t> parent_;
};

struct Vertex {
  Point at;
  int level;
  bool end;
  uint32_t route;
  friend bool operator<(const Vertex& a, const Vertex& b) {
    return std::tie(a.at, a.level, a.route) < std::tie(b.at, b.level, b.route);
  }
};

std::vector<Vertex> vertices_of(const Draft& draft) {
  std::vector<Vertex> vertices;
  for (uint32_t r = 0; r < draft.routes.size(); ++r) {
    const DraftRoute& route = draft.routes[r];
    if (!is_open(route)) continue;
    for (size_t i = 0; i < route.line.size(); ++i)
      vertices.push_back({route.line[i], route.level, i == 0 || i + 1 == route.line.size(), r});
  }
  std::sort(vertices.begin(), vertices.end());
  return vertices;
}

// Vertices at one place: those of a level meet; where one of them ends, all do.
void join_at(const Vertex* first, const Vertex* last, Sets& sets) {
  const bool ends = std::any_of(first, last, [](const Vertex& v) { return v.end; });
  for (const Vertex* v = first + 1; v < last; ++v)
    if (ends || v->level == (v - 1)->level) sets.join(v->route, (v - 1)->route);
}

void join_routes(const Draft& draft, Sets& sets) {
  const std::vector<Vertex> vertices = vertices_of(draft);
  for (size_t i = 0, next = 0; i < vertices.size(); i = next) {
    while (next < vertices.size() && vertices[next].at == vertices[i].at) ++next;
    join_at(vertices.data() + i, vertices.data() + next, sets);
  }
}

void number_components(const Draft& draft, Sets& sets, Components& out) {
  std::vector<uint32_t> place(draft.routes.size(), no_component);
  for (uint32_t r = 0; r < draft.routes.size(); ++r) {
    if (!is_open(draft.routes[r])) continue;
    uint32_t& at = place[sets.root(r)];
    if (at == no_component) {
      at = static_cast<uint32_t>(out.all.size());
      out.all.emplace_back();
      out.all.back().first_route = r;
    }
    ++out.all[at].routes;
    out.all[at].length += plan::to_whole_millimetres(plan::polyline_length(draft.routes[r].line));
  }
  std::sort(out.all.begin(), out.all.end(), [](const DraftComponent& a, const DraftComponent& b) {
    return a.length != b.length ? a.length > b.length : a.first_route < b.first_route;
  });
  for (uint32_t c = 0; c < out.all.size(); ++c) place[out.all[c].first_route] = c;
  out.of_route.assign(draft.routes.size(), no_component);
  for (uint32_t r = 0; r < draft.routes.size(); ++r)
    if (is_open(draft.routes[r])) out.of_route[r] = place[sets.root(r)];
}

struct Legs {
  std::vector<Segment> legs;
  std::vector<uint32_t> routes;
};

template <class Wanted>
Legs legs_of(const Draft& draft, Wanted wanted) {
  Legs out;
  for (uint32_t r = 0; r < draft.routes.size(); ++r) {
    const std::vector<Point>& line = draft.routes[r].line;
    if (!is_open(draft.routes[r]) || !wanted(r)) continue;
    for (size_t i = 1; i < line.size(); ++i) {
      out.legs.push_back({line[i - 1], line[i]});
      out.routes.push_back(r);
    }
  }
  return out;
}

void hang_premises(const Draft& draft, const plan::Run& run, Components& out) {
  const Legs streets = legs_of(draft, [&](uint32_t r) { return draft.routes[r].drops; });
  const plan::SegmentIndex index(streets.legs);
  out.of_premises.assign(draft.premises.size(), no_component);
  out.route_of.assign(draft.premises.size(), UINT32_MAX);
  out.drop.assign(draft.premises.size(), 0);
  const auto hang = [&](size_t i, std::optional<plan::NearestSegment>& hit) {
    const DraftPremises& p = draft.premises[i];
    const Point from = p.drop_from.value_or(p.at);
    hit = index.nearest(from, hit);
    if (!hit) return;
    const Point leaves = plan::nearest_point(streets.legs[hit->segment], from);
    out.drop[i] = plan::to_whole_millimetres(plan::distance(p.at, leaves));
    if (out.drop[i] > farthest_drop) return;
    out.route_of[i] = streets.routes[hit->segment];
    out.of_premises[i] = out.of_route[out.route_of[i]];
  };
  plan::for_each_chunk(run, draft.premises.size(), 1024, [&](size_t first, size_t last) {
    std::optional<plan::NearestSegment> hit;  // neighbours follow each other
    for (size_t i = first; i < last; ++i) hang(i, hit);
  });
  for (size_t i = 0; i < draft.premises.size(); ++i) {
    if (out.of_premises[i] == no_component) continue;
    DraftComponent& component = out.all[out.of_premises[i]];
    ++component.premises;
    component.dwellings += draft.premises[i].dwellings;
  }
}

}  // namespace

bool is_open(const DraftRoute& route) {
  return route.forbidden.empty() && !route.duct;
}

Components components_of(const Draft& draft, const plan::Run& run) {
  Components out;
  Sets sets(draft.routes.size());
  join_routes(draft, sets);
  number_components(draft, sets, out);
  hang_premises(draft, run, out);
  return out;
}

void measure_gaps(const Draft& draft, Components& components) {
  const auto reached = [&](uint32_t r) { return components.all[components.of_route[r]].headend; };
  const plan::SegmentIndex index(legs_of(draft, reached).legs);
  const Legs others = legs_of(draft, [&](uint32_t r) { return !reached(r); });
  for (size_t i = 0; i < others.legs.size(); ++i) {
    DraftComponent& component = components.all[components.of_route[others.routes[i]]];
    const auto gap = index.gap(others.legs[i]);
    if (!gap) return;
    const int64_t mm = plan::to_whole_millimetres(*gap);
    if (component.gap >= 0 && component.gap <= mm) continue;
    component.gap = mm;
    component.gap_at = others.legs[i].a;
  }
}

}  // namespace withy
