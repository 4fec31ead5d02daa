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

// Points of a text line "0 0, 12.5 40"; empty where one of them is none.
std::vector<Point> points_of_text(const Reading& r, std::string_view text) {
  std::vector<Point> line;
  for (const std::string_view part : split(text, ',')) {
    const std::string_view pair = trimmed(part);
    const size_t space = pair.find(' ');
    const auto p = space == std::string_view::npos
                       ? std::nullopt
                       : point_of(r, pair.substr(0, space), trimmed(pair.substr(space)));
    if (!p) return {};
    line.push_back(*p);
  }
  return line;
}

size_t count_children(const Tree& t, NodeRef n) {
  size_t count = 0;
  for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) ++count;
  return count;
}

// The first number of a position that lies outside, in words; empty where none does.
std::string outside(const Reading& r, NodeRef list) {
  const Tree& t = *r.tree;
  bool second = false;
  for (NodeRef c = t.first_child(list); c.valid(); c = t.next(c), second = true) {
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
  if (t.kind(n) == TreeKind::scalar && r.table) {
    line = points_of_text(r, t.text(n));
  } else if (t.kind(n) == TreeKind::list) {
    for (NodeRef c = t.first_child(n); c.valid(); c = t.next(c)) {
      const auto p = read_point(r, c);
      if (!p) return t.kind(c) == TreeKind::list ? position_misfit(r, c, f) : line_misfit(r, n, f, 0);
      line.push_back(*p);
    }
  }
  if (line.size() < 2) return line_misfit(r, n, f, line.size());
  *static_cast<std::vector<Point>*>(member) = std::move(line);
  return true;
}

}  // namespace plan
