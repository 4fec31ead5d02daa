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

template <class T>
void sort_distinct(std::vector<T>& all) {
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
}

// A vertex of a street, on its level.
using Vertex = std::pair<Point, int>;

struct Nodes {
  std::vector<Point> ends;      // ends of routes, and entries: nodes of every level
  std::vector<Vertex> meeting;  // vertices that streets of one level pass more than once
  bool holds(Point p, int level) const {
    return std::binary_search(ends.begin(), ends.end(), p) ||
           std::binary_search(meeting.begin(), meeting.end(), Vertex(p, level));
  }
};

Nodes nodes_of(const Demand& demand, const Lines& lines, const std::vector<Entry>& entries) {
  std::vector<Vertex> used;
  Nodes nodes;
  for (const Entry& e : entries) nodes.ends.push_back(e.at);
  for (RouteId r : lines.ids()) {
    const auto line = lines[r];
    if (line.size() < 2) continue;
    nodes.ends.push_back(line.front());
    nodes.ends.push_back(line.back());
    if (demand.routes[r].existing_duct) continue;
    for (const Point p : line) used.emplace_back(p, demand.routes[r].level);
  }
  std::sort(used.begin(), used.end());
  for (size_t i = 1; i < used.size(); ++i)
    if (used[i] == used[i - 1]) nodes.meeting.push_back(used[i]);
  sort_distinct(nodes.ends);
  sort_distinct(nodes.meeting);
  return nodes;
}

}  // namespace

Pieces split_routes(const Demand& demand, const Hangs& hangs) {
  const std::vector<Entry> entries = entries_of(demand, hangs);
  const Lines lines = full_lines(demand, hangs, entries);
  const Nodes nodes = nodes_of(demand, lines, entries);
  Pieces pieces;
  pieces.nodes = nodes.ends;
  for (const Vertex& v : nodes.meeting) pieces.nodes.push_back(v.first);
  sort_distinct(pieces.nodes);
  for (RouteId r : lines.ids()) {
    const auto line = lines[r];
    const bool duct = demand.routes[r].existing_duct;
    size_t begin = 0;
    for (size_t i = 1; i < line.size(); ++i) {
      if (i + 1 < line.size() && (duct || !nodes.holds(line[i], demand.routes[r].level))) continue;
      pieces.routes.add(r);
      pieces.lines.add(line.subspan(begin, i - begin + 1));
      begin = i;
    }
  }
  return pieces;
}

}  // namespace plan
