#include "graph/segment_index.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>
#include <utility>

namespace plan {
namespace {

constexpr size_t fan = 16;
// Boxes and legs round differently in the last place; a box this little too far is still opened.
constexpr double rounding = 1e-12;

double across(Point a, Point b) {
  return static_cast<double>(b.x) - static_cast<double>(a.x);
}
double along(Point a, Point b) {
  return static_cast<double>(b.y) - static_cast<double>(a.y);
}

// The same leg from its smaller point: a leg and its reverse give the same answer to the last digit.
Segment ordered(const Segment& s) {
  return s.b < s.a ? Segment{s.b, s.a} : s;
}

// Share of the way from a to b, 0 … 1, at which an ordered `s` is nearest to `p`.
double nearest_share(const Segment& s, Point p) {
  const double ux = across(s.a, s.b), uy = along(s.a, s.b);
  const double square = ux * ux + uy * uy;
  if (square == 0) return 0;
  return std::clamp((across(s.a, p) * ux + along(s.a, p) * uy) / square, 0.0, 1.0);
}

double point_square(const Segment& any, Point p) {
  const Segment s = ordered(any);
  const double t = nearest_share(s, p);
  const Point from = t == 1 ? s.b : s.a;  // exact at both ends, so that a shared vertex ties
  const double share = t == 1 ? 0 : t;
  const double dx = across(p, from) + share * across(s.a, s.b), dy = along(p, from) + share * along(s.a, s.b);
  return dx * dx + dy * dy;
}

double side(const Segment& s, Point p) {
  return across(s.a, s.b) * along(s.a, p) - along(s.a, s.b) * across(s.a, p);
}

bool cross(const Segment& s, const Segment& t) {
  const double a = side(s, t.a), b = side(s, t.b), c = side(t, s.a), d = side(t, s.b);
  return ((a < 0 && b > 0) || (a > 0 && b < 0)) && ((c < 0 && d > 0) || (c > 0 && d < 0));
}

Point middle_of(const Segment& s) {
  return {s.a.x / 2 + s.b.x / 2, s.a.y / 2 + s.b.y / 2};
}

// Middle of the box around all: the Hilbert curve reaches 2,147 km around it, and northings in a zone's
// metres lie farther out.
Point centre_of(std::span<const Segment> all) {
  if (all.empty()) return {};
  Point low = middle_of(all[0]), high = low;
  for (const Segment& s : all) {
    const Point p = middle_of(s);
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return middle_of({low, high});
}

// Places of the distinct segments, the first of each.
std::vector<uint32_t> distinct(std::span<const Segment> all) {
  std::vector<uint32_t> places(all.size());
  std::iota(places.begin(), places.end(), 0u);
  std::sort(places.begin(), places.end(), [&](uint32_t i, uint32_t j) {
    const Segment a = ordered(all[i]), b = ordered(all[j]);
    return std::tie(a.a, a.b, i) < std::tie(b.a, b.b, j);
  });
  places.erase(std::unique(places.begin(), places.end(),
                           [&](uint32_t i, uint32_t j) { return ordered(all[i]) == ordered(all[j]); }),
               places.end());
  return places;
}

}  // namespace

Point nearest_point(const Segment& any, Point p) {
  const Segment s = ordered(any);
  const double t = nearest_share(s, p);
  if (t == 1) return s.b;
  return {s.a.x + std::llround(t * across(s.a, s.b)), s.a.y + std::llround(t * along(s.a, s.b))};
}

double squared_distance(const Segment& s, const Segment& t) {
  if (t.a == t.b) return point_square(s, t.a);
  if (cross(s, t)) return 0;
  return std::min({point_square(s, t.a), point_square(s, t.b), point_square(t, s.a), point_square(t, s.b)});
}

SegmentIndex::SegmentIndex(std::span<const Segment> all) {
  std::vector<uint32_t> places = distinct(all);
  std::vector<std::pair<uint64_t, uint32_t>> order;
  order.reserve(places.size());
  const Point centre = centre_of(all);
  for (uint32_t i : places) {
    const Point middle = middle_of(all[i]);
    order.emplace_back(hilbert({middle.x - centre.x, middle.y - centre.y}), i);
  }
  std::sort(order.begin(), order.end());
  for (const auto& [curve, i] : order) {
    const Segment& s = all[i];
    places_.push_back(i);
    segments_.push_back(s);
    const auto x = std::minmax(s.a.x, s.b.x), y = std::minmax(s.a.y, s.b.y);
    boxes_.push_back({static_cast<double>(x.first), static_cast<double>(y.first),
                      static_cast<double>(x.second), static_cast<double>(y.second), i});
  }
  levels_ = {0, boxes_.size()};
  while (levels_.back() - levels_[levels_.size() - 2] > 1) {
    const size_t begin = levels_[levels_.size() - 2], end = levels_.back();
    for (size_t i = begin; i < end; i += fan) {
      Box box = boxes_[i];
      for (size_t j = i + 1; j < std::min(i + fan, end); ++j) {
        const Box& b = boxes_[j];
        box = {std::min(box.x0, b.x0), std::min(box.y0, b.y0), std::max(box.x1, b.x1), std::max(box.y1, b.y1),
               std::min(box.first, b.first)};
      }
      boxes_.push_back(box);
    }
    levels_.push_back(boxes_.size());
  }
}

// Boxes are opened only while they may hold something nearer than what is known, or as near and earlier in
// the table: with a good first guess few are.
class SegmentIndex::Finder {
 public:
  Finder(const SegmentIndex& index, const Segment& query) : index_(index), query_(query) {
    const auto x = std::minmax(query.a.x, query.b.x), y = std::minmax(query.a.y, query.b.y);
    x0_ = static_cast<double>(x.first), x1_ = static_cast<double>(x.second);
    y0_ = static_cast<double>(y.first), y1_ = static_cast<double>(y.second);
  }

  NearestSegment find(const std::optional<NearestSegment>& near) {
    if (near) measure(near->leaf);
    descend();
    open(index_.boxes_.size() - 1, index_.levels_.size() - 2);
    return best_;
  }

 private:
  struct Near {
    double square;
    size_t box;
    friend bool operator<(const Near& a, const Near& b) {
      return a.square != b.square ? a.square < b.square : a.box < b.box;
    }
  };

  // Down through the nearest boxes to one leg: a bound that keeps most boxes out of the queue.
  void descend() {
    size_t box = index_.boxes_.size() - 1;
    for (size_t level = index_.levels_.size() - 2; level > 0; --level) {
      const size_t below = index_.levels_[level - 1], above = index_.levels_[level];
      const size_t begin = below + (box - above) * fan;
      double least = std::numeric_limits<double>::infinity();
      for (size_t i = begin; i < std::min(begin + fan, above); ++i)
        if (const double square = square_to(index_.boxes_[i]); square < least) least = square, box = i;
    }
    measure(box);
  }
  // The boxes in it, nearest first.
  void open(size_t box, size_t level) {
    if (level == 0) return measure(box);
    const size_t below = index_.levels_[level - 1], above = index_.levels_[level];
    const size_t begin = below + (box - above) * fan, end = std::min(begin + fan, above);
    std::array<Near, fan> inside;
    size_t count = 0;
    for (size_t i = begin; i < end; ++i)
      if (const Near n{square_to(index_.boxes_[i]), i}; !worse(n)) inside[count++] = n;
    std::sort(inside.begin(), inside.begin() + static_cast<std::ptrdiff_t>(count));
    for (size_t i = 0; i < count; ++i)
      if (!worse(inside[i])) open(inside[i].box, level - 1);
  }
  double square_to(const Box& b) const {
    const double dx = std::max({b.x0 - x1_, 0.0, x0_ - b.x1}), dy = std::max({b.y0 - y1_, 0.0, y0_ - b.y1});
    return (dx * dx + dy * dy) * (1 - rounding);
  }
  bool worse(const Near& o) const {
    return o.square > best_.square ||
           (o.square == best_.square && index_.boxes_[o.box].first > best_.segment);
  }
  void measure(size_t leaf) {
    const NearestSegment here{index_.places_[leaf], squared_distance(index_.segments_[leaf], query_),
                              static_cast<uint32_t>(leaf)};
    if (here.square < best_.square || (here.square == best_.square && here.segment < best_.segment))
      best_ = here;
  }

  const SegmentIndex& index_;
  const Segment query_;
  double x0_, y0_, x1_, y1_;
  NearestSegment best_{UINT32_MAX, std::numeric_limits<double>::max(), 0};
};

std::optional<NearestSegment> SegmentIndex::nearest(Point p) const {
  return nearest(p, std::nullopt);
}

std::optional<NearestSegment> SegmentIndex::nearest(Point p,
                                                    const std::optional<NearestSegment>& near) const {
  if (segments_.empty()) return std::nullopt;
  return Finder(*this, {p, p}).find(near);
}

std::optional<Length> SegmentIndex::gap(const Segment& s) const {
  if (segments_.empty()) return std::nullopt;
  return whole_millimetres(std::llround(std::sqrt(Finder(*this, s).find({}).square)));
}

}  // namespace plan
