#include <fmt/core.h>

#include <cmath>

#include "base/text.h"
#include "scenario/store.h"

namespace plan {

namespace {

bool degrees(const Reading& r) {
  return r.position_scale > 1e6;
}
double farthest(const Reading& r, bool second) {
  if (!degrees(r)) return 2e7;
  return second ? 90 : 180;
}

std::optional<int64_t> coordinate(const Reading& r, std::string_view text, bool second) {
  const auto value = read_number(text);
  if (!value || std::abs(*value) > farthest(r, second)) return {};
  return std::llround(*value * r.position_scale);
}

std::optional<Point> point_of(const Reading& r, std::string_view first, std::string_view second) {
  const auto x = coordinate(r, first, false), y = coordinate(r, second, true);
  return x && y ? std::optional(Point{*x, *y}) : std::nullopt;
}

std::optional<Point> read_point(const Reading& r, NodeRef n) {
  const Tree& t = *r.tree;
  if (t.kind(n) == TreeKind::scalar && r.table) {
    const std::string_view text = trimmed(t.text(n));
    const size_t space = text.find(' ');
    if (space == std::string_view::npos) return {};
    return point_of(r, text.substr(0, space), trimmed(text.substr(space)));
  }
  if (t.kind(n) != TreeKind::list) return {};
  const NodeRef x = t.first_child(n), y = x.valid() ? t.next(x) : x;
  if (!y.valid() || t.next(y).valid()) return {};
  for (const NodeRef c : {x, y})
    if (t.kind(c) != TreeKind::scalar || t.quoted(c)) return {};
  return point_of(r, t.text(x), t.text(y));
}

size_t count_children(const Tree& t, NodeRef n) {
  size_t count = 0;
  for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) ++count;
  return count;
}

// From below the lowest shore to above the highest village, with room to spare.
constexpr double lowest_metres = -1000, highest_metres = 9000;

std::optional<Length> height_of(const Tree& t, NodeRef n) {
  const bool plain = t.kind(n) == TreeKind::scalar && !t.quoted(n);
  const auto height = plain ? read_number(t.text(n)) : std::nullopt;
  if (!height || *height < lowest_metres || *height > highest_metres) return {};
  return whole_millimetres(std::llround(*height * 1000));
}

// A position of a line, whose third number is its height.
struct Vertex {
  std::optional<Point> place;
  std::optional<Length> height;
  NodeRef third;  // invalid where there is none
};
Vertex vertex_of(const Reading& r, NodeRef n) {
  const Tree& t = *r.tree;
  if (t.kind(n) != TreeKind::list || count_children(t, n) != 3) return {read_point(r, n), {}, {}};
  const NodeRef x = t.first_child(n), y = t.next(x), z = t.next(y);
  for (const NodeRef c : {x, y})
    if (t.kind(c) != TreeKind::scalar || t.quoted(c)) return {{}, height_of(t, z), z};
  return {point_of(r, t.text(x), t.text(y)), height_of(t, z), z};
}

// The first number of a position that lies outside, in words; empty where none does.
std::string outside(const Reading& r, NodeRef list) {
  const Tree& t = *r.tree;
  bool second = false;
  int numbers = 0;
  for (NodeRef c = t.first_child(list); c.valid() && numbers < 2; c = t.next(c), second = true) {
    ++numbers;
    const auto value = t.kind(c) == TreeKind::scalar ? read_number(t.text(c)) : std::nullopt;
    const double most = farthest(r, second);
    if (!value || std::abs(*value) <= most) continue;
    const std::string_view what = degrees(r) ? (second ? "latitude" : "longitude, which comes first,")
                                             : (second ? "metres north" : "metres east");
    return fmt::format("{} is {}, expected {:.0f} to {:.0f}", what, shown(t.text(c)), -most, most);
  }
  return {};
}

bool position_misfit(Reading& r, NodeRef n, const Field& f) {
  const Tree& t = *r.tree;
  const auto why = [&] {
    if (t.kind(n) == TreeKind::list) {
      const size_t numbers = count_children(t, n);
      if (numbers != 2)
        return fmt::format("'{}' has {} {} in a position, expected 2", f.key, numbers,
                           numbers == 1 ? "number" : "numbers");
      if (std::string far = outside(r, n); !far.empty()) return fmt::format("'{}': {}", f.key, far);
    }
    return fmt::format("'{}' is no {}, {}", f.key, expected(Kind::position).substr(2),
                       degrees(r) ? "longitude first, then latitude" : "in metres east and north");
  };
  r.faults.add([&] { return t.fault(n, why()); });
  return false;
}

// A position of a line may have a third number.
bool vertex_misfit(Reading& r, NodeRef n, const Field& f, const Vertex& v) {
  const Tree& t = *r.tree;
  const size_t numbers = count_children(t, n);
  const auto why = [&] {
    if (numbers < 2 || numbers > 3)
      return fmt::format("'{}' has {} {} in a position, expected 2 or 3", f.key, numbers,
                         numbers == 1 ? "number" : "numbers");
    if (std::string far = outside(r, n); !far.empty()) return fmt::format("'{}': {}", f.key, far);
    if (v.third.valid() && !v.height)
      return fmt::format("'{}' has the height '{}', expected metres from {:.0f} to {:.0f}", f.key,
                         shown(t.text(v.third)), lowest_metres, highest_metres);
    return fmt::format("'{}' is no {}", f.key, expected(Kind::position).substr(2));
  };
  if (numbers == 2) return position_misfit(r, n, f);
  r.faults.add([&] { return t.fault(n, why()); });
  return false;
}

bool heights_misfit(Reading& r, NodeRef n, const Field& f, size_t heights) {
  r.faults.add([&] {
    return r.tree->fault(n, fmt::format("'{}' has heights at {} of its {} positions, expected all or none",
                                        f.key, heights, count_children(*r.tree, n)));
  });
  return false;
}

bool line_misfit(Reading& r, NodeRef n, const Field& f, size_t positions) {
  r.faults.add([&] {
    return r.tree->fault(n, positions == 1
                                ? fmt::format("'{}' has 1 position, expected at least 2", f.key)
                                : fmt::format("'{}' is no {}", f.key, expected(Kind::line).substr(2)));
  });
  return false;
}

}  // namespace

bool store_geometry(Reading& r, NodeRef n, const Field& f, void* member) {
  const Tree& t = *r.tree;
  if (f.kind == Kind::position) {
    const auto p = read_point(r, n);
    if (!p) return position_misfit(r, n, f);
    *static_cast<Point*>(member) = *p;
    return true;
  }
  std::vector<Point> line;
  std::vector<Length> heights;
  if (t.kind(n) == TreeKind::list) {
    for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) {
      const Vertex v = vertex_of(r, c);
      if (!v.place || (v.third.valid() && !v.height))
        return t.kind(c) == TreeKind::list ? vertex_misfit(r, c, f, v) : line_misfit(r, n, f, 0);
      line.push_back(*v.place);
      if (v.height) heights.push_back(*v.height);
    }
  }
  if (line.size() < 2) return line_misfit(r, n, f, line.size());
  if (!heights.empty() && heights.size() != line.size()) return heights_misfit(r, n, f, heights.size());
  auto& route = *static_cast<Route*>(member);
  route.line = std::move(line);
  route.heights = std::move(heights);
  return true;
}

}  // namespace plan
