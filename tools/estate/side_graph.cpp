#include "estate/side_graph.h"

#include <algorithm>
#include <tuple>

namespace withy {

double half_width(const DraftRoute& r, const SideRules& rules) {
  const bool single = r.bridge || r.tunnel || r.duct || !r.crossing.empty() || !r.forbidden.empty();
  return single ? 0 : static_cast<double>(rules.half_width[static_cast<size_t>(r.street_class)]);
}

plan::Point arm_point(const SideGraph& graph, SideArm arm, size_t n) {
  const auto& line = graph.edges[arm.edge].piece.line;
  return arm.end == 0 ? line[n] : line[line.size() - 1 - n];
}

namespace {

constexpr uint32_t none = UINT32_MAX;

// A vertex of a route.
struct Use {
  plan::Point at;
  int level;
  uint32_t route, vertex;
  bool street, end;
};

bool upper(Vector v) {
  return v.y > 0 || (v.y == 0 && v.x > 0);
}
// Counter-clockwise from east.
bool before(Vector a, Vector b) {
  if (upper(a) != upper(b)) return upper(a);
  return cross(a, b) > 0;
}

class Builder {
 public:
  Builder(const std::vector<DraftRoute>& routes, const SideRules& rules) : routes_(routes), rules_(rules) {}

  SideGraph build() {
    node_of_.resize(routes_.size());
    for (uint32_t r = 0; r < routes_.size(); ++r) collect(r);
    std::sort(uses_.begin(), uses_.end(), [](const Use& a, const Use& b) {
      return std::tie(a.at, a.level, a.route, a.vertex) < std::tie(b.at, b.level, b.route, b.vertex);
    });
    for (size_t begin = 0, end = 0; begin < uses_.size(); begin = end) {
      while (end < uses_.size() && uses_[end].at == uses_[begin].at) ++end;
      place(begin, end);
    }
    for (uint32_t r = 0; r < routes_.size(); ++r) divide(r);
    for (SideNode& n : graph_.nodes) arrange(n);
    return std::move(graph_);
  }

 private:
  void collect(uint32_t r) {
    const DraftRoute& route = routes_[r];
    if (route.line.size() < 2) return;
    const bool street = half_width(route, rules_) > 0;
    if (street) node_of_[r].assign(route.line.size(), none);
    for (uint32_t v = 0; v < route.line.size(); ++v)
      uses_.push_back({route.line[v], route.level, r, v, street, v == 0 || v + 1 == route.line.size()});
  }

  // The uses of one place: one node where a route ends, else one a level.
  void place(size_t begin, size_t end) {
    bool ends = false;
    for (size_t i = begin; i < end; ++i) ends |= uses_[i].end;
    if (ends) return join(begin, end);
    for (size_t next = begin; begin < end; begin = next) {
      while (next < end && uses_[next].level == uses_[begin].level) ++next;
      if (next - begin > 1) join(begin, next);
    }
  }

  void join(size_t begin, size_t end) {
    bool street = false;
    for (size_t i = begin; i < end; ++i) street |= uses_[i].street;
    if (!street) return;
    const auto number = static_cast<uint32_t>(graph_.nodes.size());
    SideNode node{uses_[begin].at, 0, {}, {}, {}};
    bool high = false;
    for (size_t i = begin; i < end; ++i) {
      const Use& u = uses_[i];
      const DraftRoute& route = routes_[u.route];
      if (u.street)
        node_of_[u.route][u.vertex] = number;
      else
        add_directions(route, u.vertex, node.singles);
      if (route.heights.size() != route.line.size()) continue;
      node.height = high ? std::min(node.height, route.heights[u.vertex]) : route.heights[u.vertex];
      high = true;
    }
    graph_.nodes.push_back(std::move(node));
  }

  static void add_directions(const DraftRoute& route, uint32_t v, std::vector<Vector>& out) {
    const auto& line = route.line;
    if (v > 0 && line[v - 1] != line[v]) out.push_back(vector_of(line[v], line[v - 1]));
    if (v + 1 < line.size() && line[v + 1] != line[v]) out.push_back(vector_of(line[v], line[v + 1]));
  }

  void divide(uint32_t r) {
    const DraftRoute& route = routes_[r];
    const std::vector<uint32_t>& nodes = node_of_[r];
    size_t from = 0;
    for (size_t v = 1; v < nodes.size(); ++v) {
      if (nodes[v] == none) continue;
      add_edge(route, r, from, v);
      from = v;
    }
  }

  void add_edge(const DraftRoute& route, uint32_t r, size_t from, size_t to) {
    SideEdge e;
    e.route = r;
    const bool high = route.heights.size() == route.line.size();
    for (size_t v = from; v <= to; ++v) {
      if (v > from && route.line[v] == e.piece.line.back()) continue;
      e.piece.line.push_back(route.line[v]);
      if (high) e.piece.heights.push_back(route.heights[v]);
    }
    if (e.piece.line.size() < 2) return;
    e.length = Stations(e.piece.line).length();
    e.half = half_width(route, rules_);
    e.node = {node_of_[r][from], node_of_[r][to]};
    const auto number = static_cast<uint32_t>(graph_.edges.size());
    graph_.edges.push_back(std::move(e));
    for (const int end : {0, 1})
      graph_.nodes[graph_.edges.back().node[static_cast<size_t>(end)]].arms.push_back({number, end});
  }

  Vector direction(SideArm a) const { return vector_of(arm_point(graph_, a, 0), arm_point(graph_, a, 1)); }

  void arrange(SideNode& node) const {
    std::sort(node.arms.begin(), node.arms.end(), [&](SideArm a, SideArm b) {
      const Vector x = direction(a), y = direction(b);
      if (before(x, y) || before(y, x)) return before(x, y);
      return order(a, b);
    });
    if (node.arms.empty()) return;
    for (const Vector& s : node.singles) {
      size_t sector = node.arms.size() - 1;  // beyond the last and before the first arm
      for (size_t i = 0; i < node.arms.size(); ++i)
        if (!before(s, direction(node.arms[i]))) sector = i;
      node.sectors.push_back(static_cast<uint32_t>(sector));
    }
    std::sort(node.sectors.begin(), node.sectors.end());
    node.sectors.erase(std::unique(node.sectors.begin(), node.sectors.end()), node.sectors.end());
  }

  // Of arms that leave in one direction: by what follows.
  bool order(SideArm a, SideArm b) const {
    const size_t n = graph_.edges[a.edge].piece.line.size(), m = graph_.edges[b.edge].piece.line.size();
    for (size_t i = 1; i < std::min(n, m); ++i)
      if (arm_point(graph_, a, i) != arm_point(graph_, b, i))
        return arm_point(graph_, a, i) < arm_point(graph_, b, i);
    const DraftRoute &x = routes_[graph_.edges[a.edge].route], &y = routes_[graph_.edges[b.edge].route];
    return std::tie(n, x.level, x.street_class, x.name, a.end) <
           std::tie(m, y.level, y.street_class, y.name, b.end);
  }

  const std::vector<DraftRoute>& routes_;
  const SideRules& rules_;
  std::vector<Use> uses_;
  std::vector<std::vector<uint32_t>> node_of_;  // of each vertex of each street
  SideGraph graph_;
};

}  // namespace

SideGraph side_graph(const std::vector<DraftRoute>& routes, const SideRules& rules) {
  return Builder(routes, rules).build();
}

}  // namespace withy
