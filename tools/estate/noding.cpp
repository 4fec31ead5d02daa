#include "estate/noding.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <tuple>

#include "estate/segment_grid.h"

namespace withy {
namespace {

using plan::Point;

double cross(Point o, Point a, Point b) {
  return static_cast<double>(a.x - o.x) * static_cast<double>(b.y - o.y) -
         static_cast<double>(a.y - o.y) * static_cast<double>(b.x - o.x);
}
double square(Point a, Point b) {
  const double dx = static_cast<double>(a.x - b.x), dy = static_cast<double>(a.y - b.y);
  return dx * dx + dy * dy;
}

int64_t keyed(int64_t v, int64_t key) {
  const int64_t down = v >= 0 ? v / key : -((-v + key - 1) / key);
  return (v - down * key) * 2 >= key ? (down + 1) * key : down * key;
}

// Where the two cross inside both of them.
std::optional<Point> proper_crossing(const GridSegment& s, const GridSegment& t, int64_t key) {
  const double a = cross(t.a, t.b, s.a), b = cross(t.a, t.b, s.b);
  const double c = cross(s.a, s.b, t.a), d = cross(s.a, s.b, t.b);
  if (a * b >= 0 || c * d >= 0) return {};
  const double share = a / (a - b);
  const auto between = [share](int64_t from, int64_t to) {
    return from + std::llround(share * static_cast<double>(to - from));
  };
  return Point{keyed(between(s.a.x, s.b.x), key), keyed(between(s.a.y, s.b.y), key)};
}

Point nearest_on(const GridSegment& s, Point p, int64_t key) {
  const double length = square(s.a, s.b);
  if (length == 0) return s.a;
  const double along = static_cast<double>(p.x - s.a.x) * static_cast<double>(s.b.x - s.a.x) +
                       static_cast<double>(p.y - s.a.y) * static_cast<double>(s.b.y - s.a.y);
  const double share = std::clamp(along / length, 0.0, 1.0);
  return {keyed(s.a.x + std::llround(share * static_cast<double>(s.b.x - s.a.x)), key),
          keyed(s.a.y + std::llround(share * static_cast<double>(s.b.y - s.a.y)), key)};
}

class Noder {
 public:
  Noder(std::vector<LooseLine>& lines, const NodingRules& rules, std::vector<NodingRemark>& remarks)
      : lines_(lines), rules_(rules), remarks_(remarks) {}

  NodingCounts run() {
    for (LooseLine& l : lines_) tidy(l.line);
    sort_lines();
    drop_duplicates();
    node_crossings();
    move_ends();
    for (LooseLine& l : lines_) tidy(l.line);
    return counts_;
  }

 private:
  // A vertex to be put into a leg, in order of its distance from the leg's first vertex.
  struct Insert {
    uint32_t line, leg;
    double along;
    Point at;
    friend bool operator<(const Insert& a, const Insert& b) {
      return std::tie(a.line, a.leg, a.along, a.at) < std::tie(b.line, b.leg, b.along, b.at);
    }
  };
  struct Leg {
    uint32_t line, leg;
  };

  void remark(RemarkKind kind, std::string_view what, const MapId& id, Point at, std::string detail = {}) {
    remarks_.push_back({{kind, what, id, {}, std::move(detail)}, at});
  }

  void tidy(std::vector<Point>& line) const {
    for (Point& p : line) p = {keyed(p.x, rules_.key), keyed(p.y, rules_.key)};
    line.erase(std::unique(line.begin(), line.end()), line.end());
    if (line.size() < 2) line.clear();
  }

  // What follows must not hang on the order of the file.
  void sort_lines() {
    for (LooseLine& l : lines_) {
      order_.push_back(&l);
    }
    std::stable_sort(order_.begin(), order_.end(), [](const LooseLine* a, const LooseLine* b) {
      return std::lexicographical_compare(a->line.begin(), a->line.end(), b->line.begin(), b->line.end());
    });
  }

  void drop_duplicates() {
    std::vector<std::pair<std::vector<Point>, LooseLine*>> seen;
    seen.reserve(order_.size());
    for (LooseLine* l : order_) {
      if (l->line.empty()) continue;
      std::vector<Point> back(l->line.rbegin(), l->line.rend());
      seen.emplace_back(std::min(l->line, back), l);
    }
    std::stable_sort(seen.begin(), seen.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (size_t i = 1; i < seen.size(); ++i)
      if (seen[i].first == seen[i - 1].first) {
        LooseLine& l = *seen[i].second;
        ++counts_.duplicates;
        remark(RemarkKind::left_out, "street line drawn twice", l.id, l.line.front());
        l.line.clear();
      }
  }

  void take_legs() {
    legs_.clear(), segments_.clear();
    for (uint32_t i = 0; i < order_.size(); ++i)
      for (uint32_t k = 0; k + 1 < order_[i]->line.size(); ++k) {
        legs_.push_back({i, k});
        segments_.push_back({order_[i]->line[k], order_[i]->line[k + 1]});
      }
  }

  void insert(uint32_t leg, Point at) {
    inserts_.push_back({legs_[leg].line, legs_[leg].leg, square(segments_[leg].a, at), at});
  }

  void node_crossings() {
    take_legs();
    const SegmentGrid grid(segments_, SegmentGrid::cell_for(segments_));
    uint64_t found = 0;
    grid.each_pair([&](uint32_t s, uint32_t t) {
      const auto at = proper_crossing(segments_[s], segments_[t], rules_.key);
      if (!at) return true;
      if (++found > rules_.most_crossings) {
        remark(RemarkKind::doubtful, "too many crossings to be noded", order_[legs_[s].line]->id, *at);
        return false;
      }
      insert(s, *at), insert(t, *at);
      crossed_.push_back(
          {*at, std::min(legs_[s].line, legs_[t].line), std::max(legs_[s].line, legs_[t].line)});
      return true;
    });
    std::sort(crossed_.begin(), crossed_.end());
    crossed_.erase(std::unique(crossed_.begin(), crossed_.end()), crossed_.end());
    counts_.crossings = crossed_.size();
    for (const auto& [at, a, b] : crossed_)
      remark(RemarkKind::repaired, "crossing without a vertex", order_[a]->id, at);
    apply_inserts();
  }

  void apply_inserts() {
    std::sort(inserts_.begin(), inserts_.end());
    for (size_t i = 0; i < inserts_.size();) {
      const uint32_t line = inserts_[i].line;
      std::vector<Point> made;
      const std::vector<Point>& old = order_[line]->line;
      for (uint32_t leg = 0; leg < old.size(); ++leg) {
        made.push_back(old[leg]);
        for (; i < inserts_.size() && inserts_[i].line == line && inserts_[i].leg == leg; ++i)
          made.push_back(inserts_[i].at);
      }
      made.erase(std::unique(made.begin(), made.end()), made.end());
      order_[line]->line = std::move(made);
    }
    inserts_.clear();
  }

  // Ends that no other vertex shares, in order of their place.
  std::vector<std::pair<Point, uint32_t>> loose_ends() const {
    std::vector<Point> all;
    for (const LooseLine* l : order_) all.insert(all.end(), l->line.begin(), l->line.end());
    std::sort(all.begin(), all.end());
    std::vector<std::pair<Point, uint32_t>> ends;
    for (uint32_t i = 0; i < order_.size(); ++i) {
      const auto& line = order_[i]->line;
      if (line.empty()) continue;
      for (const Point p : {line.front(), line.back()}) {
        const auto [first, last] = std::equal_range(all.begin(), all.end(), p);
        if (last - first == 1) ends.emplace_back(p, i);
      }
    }
    std::sort(ends.begin(), ends.end());
    return ends;
  }

  struct Target {
    double square;
    uint32_t leg;
    friend bool operator<(const Target& a, const Target& b) {
      return std::tie(a.square, a.leg) < std::tie(b.square, b.leg);
    }
  };

  // The nearest leg within the tolerance that the end itself is no part of.
  std::optional<Target> nearest_leg(const SegmentGrid& grid, Point end) const {
    std::optional<Target> best;
    const double reach = static_cast<double>(rules_.tolerance) * static_cast<double>(rules_.tolerance);
    grid.near(end, rules_.tolerance, [&](uint32_t s) {
      if (segments_[s].a == end || segments_[s].b == end) return;
      const Target t{square(nearest_on(segments_[s], end, 1), end), s};
      if (t.square <= reach && (!best || t < *best)) best = t;
    });
    return best;
  }

  // Where a place that was moved, perhaps with the end it was moved to, has come to rest.
  static Point rest(const std::map<Point, Point>& moved, Point p) {
    for (auto at = moved.find(p); at != moved.end(); at = moved.find(p)) p = at->second;
    return p;
  }

  void move_ends() {
    take_legs();
    const SegmentGrid grid(segments_, SegmentGrid::cell_for(segments_));
    const double reach = static_cast<double>(rules_.tolerance) * static_cast<double>(rules_.tolerance);
    std::map<Point, Point> moved;
    for (const auto& [end, line] : loose_ends()) {
      const auto target = nearest_leg(grid, end);
      if (!target) continue;
      const GridSegment& s = segments_[target->leg];
      const bool a = square(s.a, end) <= square(s.b, end);
      const Point corner = a ? s.a : s.b;
      const bool to_corner = square(corner, end) <= reach;
      Point to = to_corner ? corner : nearest_on(s, end, rules_.key);
      to = rest(moved, to);
      if (to == end) continue;  // the other end has come here
      if (!to_corner) insert(target->leg, to);
      moved.emplace(end, to);
      ++counts_.ends_moved;
      remark(RemarkKind::repaired, "loose end moved to the next street", order_[line]->id, end,
             fmt::format("by {} mm", std::llround(std::sqrt(square(end, to)))));
    }
    apply_inserts();
    for (LooseLine* l : order_) {
      if (l->line.empty()) continue;
      for (Point* p : {&l->line.front(), &l->line.back()}) *p = rest(moved, *p);
    }
  }

  std::vector<LooseLine>& lines_;
  const NodingRules& rules_;
  std::vector<NodingRemark>& remarks_;
  std::vector<LooseLine*> order_;
  std::vector<Leg> legs_;
  std::vector<GridSegment> segments_;
  std::vector<Insert> inserts_;
  std::vector<std::tuple<Point, uint32_t, uint32_t>> crossed_;
  NodingCounts counts_;
};

}  // namespace

NodingCounts node_lines(std::vector<LooseLine>& lines, const NodingRules& rules,
                        std::vector<NodingRemark>& remarks) {
  return Noder(lines, rules, remarks).run();
}

}  // namespace withy
