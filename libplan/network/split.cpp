#include "network/split.h"

#include <algorithm>
#include <cstdlib>
#include <tuple>

namespace plan {
namespace {

// A vertex to be added to a route's line, in order of its place along it.
struct Entry {
  RouteId route;
  uint32_t leg;
  int64_t along;  // |dx| + |dy| from the leg's first vertex: grows along a straight leg
  Point at;
  friend bool operator<(const Entry& a, const Entry& b) {
    return std::tie(a.route, a.leg, a.along, a.at) < std::tie(b.route, b.leg, b.along, b.at);
  }
};

std::vector<Entry> entries_of(const Demand& demand, const Hangs& hangs) {
  std::vector<Entry> entries;
  const auto add = [&](const Hang& h) {
    if (!h.found) return;
    const Point from = demand.routes[h.route].line[h.leg];
    entries.push_back({h.route, h.leg, std::abs(h.entry.x - from.x) + std::abs(h.entry.y - from.y), h.entry});
  };
  for (const Hang& h : hangs.premises) add(h);
  for (const Hang& h : hangs.headends) add(h);
  for (const Hang& h : hangs.sites) add(h);
  for (const auto& ends : hangs.duct_ends)
    for (const Hang& h : ends) add(h);
  std::sort(entries.begin(), entries.end());
  return entries;
}

void append(std::vector<Point>& line, Point p) {
  if (line.empty() || line.back() != p) line.push_back(p);
}

using Lines = Lists<RouteId, Point>;

// Every street with its entries as vertices, every duct with its chambers as ends, no leg of no length.
Lines full_lines(const Demand& demand, const Hangs& hangs, const std::vector<Entry>& entries) {
  Lines lines;
  std::vector<Point> line;
  auto entry = entries.begin();
  size_t duct = 0;
  for (RouteId r : demand.routes.ids()) {
    const Route& route = demand.routes[r];
    line.clear();
    if (route.existing_duct && !route.line.empty()) {
      const auto& [head, tail] = hangs.duct_ends[duct++];
      if (head.found) append(line, head.entry);
      for (Point p : route.line) append(line, p);
      if (tail.found) append(line, tail.entry);
    } else {
      for (uint32_t i = 0; i < route.line.size(); ++i) {
        append(line, route.line[i]);
        for (; entry != entries.end() && entry->route == r && entry->leg == i; ++entry)
          append(line, entry->at);
      }
    }
    lines.add(line);
  }
  return lines;
}

// Ends, entries, and vertices that more than one leg end of any street passes.
std::vector<Point> nodes_of(const Demand& demand, const Lines& lines, const std::vector<Entry>& entries) {
  std::vector<Point> used, nodes;
  for (const Entry& e : entries) nodes.push_back(e.at);
  for (RouteId r : lines.ids()) {
    const auto line = lines[r];
    if (line.size() < 2) continue;
    nodes.push_back(line.front());
    nodes.push_back(line.back());
    if (!demand.routes[r].existing_duct) used.insert(used.end(), line.begin(), line.end());
  }
  std::sort(used.begin(), used.end());
  for (size_t i = 1; i < used.size(); ++i)
    if (used[i] == used[i - 1]) nodes.push_back(used[i]);
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

}  // namespace

Pieces split_routes(const Demand& demand, const Hangs& hangs) {
  const std::vector<Entry> entries = entries_of(demand, hangs);
  const Lines lines = full_lines(demand, hangs, entries);
  Pieces pieces;
  pieces.nodes = nodes_of(demand, lines, entries);
  const auto is_node = [&](Point p) {
    return std::binary_search(pieces.nodes.begin(), pieces.nodes.end(), p);
  };
  for (RouteId r : lines.ids()) {
    const auto line = lines[r];
    const bool duct = demand.routes[r].existing_duct;
    size_t begin = 0;
    for (size_t i = 1; i < line.size(); ++i) {
      if (i + 1 < line.size() && (duct || !is_node(line[i]))) continue;
      pieces.routes.add(r);
      pieces.lines.add(line.subspan(begin, i - begin + 1));
      begin = i;
    }
  }
  return pieces;
}

}  // namespace plan
