#include <algorithm>
#include <numeric>
#include <utility>

#include "estate/streets.h"

namespace withy {
namespace {

using plan::Point;
using Vertex = std::pair<Point, int>;  // on its level

template <class T>
void sort_distinct(std::vector<T>& all) {
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
}

struct Nodes {
  std::vector<Point> ends;
  std::vector<Vertex> meeting;
  bool holds(Point p, int level) const {
    return std::binary_search(ends.begin(), ends.end(), p) ||
           std::binary_search(meeting.begin(), meeting.end(), Vertex(p, level));
  }
};

Nodes nodes_of(const std::vector<DraftRoute>& routes) {
  Nodes nodes;
  std::vector<Vertex> used;
  for (const DraftRoute& r : routes) {
    if (r.duct) continue;
    nodes.ends.push_back(r.line.front());
    nodes.ends.push_back(r.line.back());
    for (const Point p : r.line) used.emplace_back(p, r.level);
  }
  std::sort(used.begin(), used.end());
  for (size_t i = 1; i < used.size(); ++i)
    if (used[i] == used[i - 1]) nodes.meeting.push_back(used[i]);
  sort_distinct(nodes.ends);
  sort_distinct(nodes.meeting);
  return nodes;
}

class Joined {
 public:
  explicit Joined(size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), size_t{0}); }
  size_t root(size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(size_t a, size_t b) { parent_[std::max(root(a), root(b))] = std::min(root(a), root(b)); }

 private:
  std::vector<size_t> parent_;
};

}  // namespace

StreetCounts street_counts(const std::vector<DraftRoute>& routes) {
  const Nodes nodes = nodes_of(routes);
  std::vector<Point> places = nodes.ends;
  for (const Vertex& v : nodes.meeting) places.push_back(v.first);
  sort_distinct(places);
  const auto place = [&](Point p) {
    return static_cast<size_t>(std::lower_bound(places.begin(), places.end(), p) - places.begin());
  };
  StreetCounts counts;
  counts.nodes = places.size();
  Joined joined(places.size());
  std::vector<std::pair<size_t, size_t>> edges;
  for (const DraftRoute& r : routes) {
    if (r.duct) continue;
    size_t begin = 0;
    for (size_t i = 1; i < r.line.size(); ++i) {
      counts.metres += plan::in_metres(plan::distance(r.line[i - 1], r.line[i]));
      if (i + 1 < r.line.size() && !nodes.holds(r.line[i], r.level)) continue;
      const size_t a = place(r.line[begin]), b = place(r.line[i]);
      edges.emplace_back(std::min(a, b), std::max(a, b));
      joined.join(a, b);
      counts.loops += a == b ? 1 : 0;
      counts.bridges += r.bridge ? 1 : 0;
      counts.tunnels += r.tunnel ? 1 : 0;
      begin = i;
    }
  }
  counts.edges = edges.size();
  std::sort(edges.begin(), edges.end());
  for (size_t i = 1; i < edges.size(); ++i)
    counts.parallel += edges[i] == edges[i - 1] && edges[i].first != edges[i].second ? 1 : 0;
  for (size_t i = 0; i < places.size(); ++i) counts.components += joined.root(i) == i ? 1 : 0;
  return counts;
}

}  // namespace withy
