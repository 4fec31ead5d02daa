#include "estate/both_sides.h"

#include <algorithm>
#include <utility>

#include "estate/side_graph.h"
#include "estate/side_line.h"

namespace withy {
namespace {

// The next numbers of the pieces of one street.
struct Numbers {
  int left = 0, right = 0, crossing = 0, corner = 0, joint = 0;
};

class SideMaker {
 public:
  SideMaker(const std::vector<DraftRoute>& routes, const SideRules& rules, std::vector<MapRemark>& remarks)
      : routes_(routes), rules_(rules), remarks_(remarks), names_(routes), graph_(side_graph(routes, rules)) {
    set_corners(graph_);
    crossings_ = crossing_places(graph_, static_cast<double>(rules.crossing_every));
    numbers_.resize(routes.size());
  }

  std::vector<DraftRoute> make() {
    size_t edge = 0;
    for (uint32_t r = 0; r < routes_.size(); ++r) {
      if (half_width(routes_[r], rules_) <= 0 || routes_[r].line.size() < 2) out_.push_back(routes_[r]);
      for (; edge < graph_.edges.size() && graph_.edges[edge].route == r; ++edge) lay(edge);
    }
    for (const SideNode& n : graph_.nodes) {
      if (n.arms.empty()) continue;
      close_corners(n);
      cross_arms(n);
      join_singles(n);
    }
    return std::move(out_);
  }

 private:
  DraftRoute blank(const SideEdge& e) const {
    DraftRoute row = routes_[e.route];
    row.line.clear();
    row.heights.clear();
    const std::string& surface = rules_.surface[static_cast<size_t>(row.street_class)];
    row.surface = surface.empty() ? "paved footway" : surface;
    row.method.clear();
    row.surface_known = Known::assumed;
    return row;
  }

  // A straight piece that nothing leaves.
  struct Link {
    plan::Point from, to;
    int32_t from_height = 0, to_height = 0;
    bool crossing = false;
  };
  void link(const SideEdge& e, const Link& l, const char* word, int& number) {
    if (l.from == l.to) return;
    DraftRoute row = blank(e);
    row.line = {l.from, l.to};
    if (!e.piece.heights.empty()) row.heights = {l.from_height, l.to_height};
    row.drops = false;
    if (l.crossing) row.surface = "crossing", row.crossing = "carriageway";
    row.name = names_.next(routes_[e.route].name, word, number);
    out_.push_back(std::move(row));
  }
  void cross(const SideEdge& e, plan::Point from, plan::Point to, int32_t height) {
    link(e, {from, to, height, height, true}, "crossing", numbers_[e.route].crossing);
  }

  void lay(size_t edge) {
    const SideEdge& e = graph_.edges[edge];
    const Stations stations(e.piece.line);
    const SideEnd &start = e.end[0], &end = e.end[1];
    SideStops left{{start.trim_left}, {start.left}}, right{{start.trim_right}, {start.right}};
    std::vector<double> crossed = crossings_[edge];
    for (const double at : crossed) {
      left.at.push_back(at), right.at.push_back(at);
      left.feet.push_back(side_foot(e.piece.line, stations, at, e.half));
      right.feet.push_back(side_foot(e.piece.line, stations, at, -e.half));
    }
    // Seen from the end, the left side of the piece lies right.
    left.at.push_back(e.length - end.trim_right), left.feet.push_back(end.right);
    right.at.push_back(e.length - end.trim_left), right.feet.push_back(end.left);
    Numbers& n = numbers_[e.route];
    side(e, left, e.half, names_.next(routes_[e.route].name, "left", n.left));
    side(e, right, -e.half, names_.next(routes_[e.route].name, "right", n.right));
    for (size_t i = 0; i < crossed.size(); ++i) {
      const int32_t height = height_at(e.piece.heights, stations, crossed[i]);
      cross(e, left.feet[i + 1], right.feet[i + 1], height);
    }
  }

  void side(const SideEdge& e, const SideStops& stops, double half, std::string name) {
    DraftRoute row = blank(e);
    lay_side(e.piece, stops, half, row);
    row.name = std::move(name);
    if (row.line.size() > 1) {
      if (!row.heights.empty()) {
        row.heights.front() = graph_.nodes[e.node[0]].height;
        row.heights.back() = graph_.nodes[e.node[1]].height;
      }
      out_.push_back(std::move(row));
      return;
    }
    const plan::Point at = e.piece.line[0];
    remarks_.push_back({RemarkKind::left_out, "side of a street without length", routes_[e.route].id,
                        MapPlace{static_cast<double>(at.x) / 1000, static_cast<double>(at.y) / 1000},
                        row.name});
  }

  const SideEdge& edge(SideArm a) const { return graph_.edges[a.edge]; }
  const SideEnd& end(SideArm a) const { return edge(a).end[static_cast<size_t>(a.end)]; }

  void close_corners(const SideNode& n) {
    for (size_t i = 0; n.arms.size() > 1 && i < n.arms.size(); ++i) {
      const SideArm a = n.arms[i], b = n.arms[(i + 1) % n.arms.size()];
      link(edge(a), {end(a).left, end(b).right, n.height, n.height}, "corner",
           numbers_[edge(a).route].corner);
    }
  }

  void cross_arms(const SideNode& n) {
    const bool dead_end = n.arms.size() == 1 && n.singles.empty();
    if (n.arms.size() < 3 && !dead_end) return;
    for (const SideArm a : n.arms) cross(edge(a), end(a).right, end(a).left, n.height);
  }

  // One near corner by a joint; what lies across the carriageway from it by a crossing.
  void join_singles(const SideNode& n) {
    if (n.singles.empty()) return;
    bool crossing = false;
    const auto join = [&](SideArm a, plan::Point to) {
      Numbers& number = numbers_[edge(a).route];
      link(edge(a), {n.at, to, n.height, n.height, crossing}, crossing ? "crossing" : "joint",
           crossing ? number.crossing : number.joint);
      crossing = true;
    };
    for (const uint32_t i : n.sectors) join(n.arms[i], end(n.arms[i]).left);
    if (n.arms.size() == 1) join(n.arms[0], end(n.arms[0]).right);
    if (n.arms.size() == 2 && n.sectors.size() == 1) {
      const SideArm far = n.arms[1 - n.sectors[0]];
      join(far, end(far).left);
    }
  }

  const std::vector<DraftRoute>& routes_;
  const SideRules& rules_;
  std::vector<MapRemark>& remarks_;
  PieceNames names_;
  SideGraph graph_;
  std::vector<std::vector<double>> crossings_;  // of each edge
  std::vector<Numbers> numbers_;                // of each route
  std::vector<DraftRoute> out_;
};

}  // namespace

std::vector<DraftRoute> both_sides(const std::vector<DraftRoute>& centre_lines, const SideRules& rules,
                                   std::vector<MapRemark>& remarks) {
  return SideMaker(centre_lines, rules, remarks).make();
}

}  // namespace withy
