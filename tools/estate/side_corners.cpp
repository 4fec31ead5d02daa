// Where the sides of neighbouring arms meet, and where streets are crossed along their way.
#include <algorithm>
#include <cmath>

#include "estate/side_graph.h"
#include "estate/side_line.h"

namespace withy {
namespace {

constexpr double most_of_a_piece = 0.4;  // that one end may take off its sides

struct ArmView {
  SideArm arm;
  const SideEdge* edge;
  Vector direction;
  double first_leg;
};

ArmView view(const SideGraph& graph, SideArm arm) {
  const Vector leg = vector_of(arm_point(graph, arm, 0), arm_point(graph, arm, 1));
  return {arm, &graph.edges[arm.edge], unit(leg), std::hypot(leg.x, leg.y)};
}

// The first point of a side that begins `trim` along the arm; `half` > 0 left of it.
plan::Point foot(const ArmView& a, double trim, double half) {
  const Stations stations(a.edge->piece.line);
  return a.arm.end == 0 ? side_foot(a.edge->piece.line, stations, trim, half)
                        : side_foot(a.edge->piece.line, stations, a.edge->length - trim, -half);
}

double allowed(const ArmView& a) {
  return std::min(most_of_a_piece * a.edge->length, mitre_limit * a.edge->half);
}

// Left of `a` and right of the next arm `b`.
void set_corner(SideGraph& graph, const SideNode& node, SideArm first, SideArm second) {
  const ArmView a = view(graph, first), b = view(graph, second);
  const double ha = a.edge->half, hb = b.edge->half;
  SideEnd& left = graph.edges[first.edge].end[static_cast<size_t>(first.end)];
  SideEnd& right = graph.edges[second.edge].end[static_cast<size_t>(second.end)];
  const Vector between = left_of(b.direction) * -hb + left_of(a.direction) * -ha;
  const double sine = cross(a.direction, b.direction);
  const bool parallel = std::abs(sine) < 1e-6;
  const double t = parallel ? 0 : cross(between, b.direction) / sine;
  const double u = parallel ? 0 : cross(between, a.direction) / sine;
  const bool near = !parallel && std::hypot(t, ha) <= mitre_limit * std::max(ha, hb) &&
                    t <= std::min(a.first_leg, most_of_a_piece * a.edge->length) &&
                    u <= std::min(b.first_leg, most_of_a_piece * b.edge->length);
  left.trim_left = std::clamp(t, 0.0, near ? std::max(t, 0.0) : allowed(a));
  right.trim_right = std::clamp(u, 0.0, near ? std::max(u, 0.0) : allowed(b));
  if (near) {
    left.left = right.right = moved(node.at, left_of(a.direction) * ha + a.direction * t);
  } else {
    left.left = foot(a, left.trim_left, ha);
    right.right = foot(b, right.trim_right, -hb);
  }
}

void set_dead_end(SideGraph& graph, SideArm arm) {
  const ArmView a = view(graph, arm);
  SideEnd& end = graph.edges[arm.edge].end[static_cast<size_t>(arm.end)];
  end.left = foot(a, 0, a.edge->half);
  end.right = foot(a, 0, -a.edge->half);
}

// A street goes on through such a node without a crossing.
bool passes(const SideNode& n) {
  return n.arms.size() == 2 && n.singles.empty();
}

class Chains {
 public:
  Chains(const SideGraph& graph, double every) : graph_(graph), every_(every) {
    places_.resize(graph.edges.size());
    seen_.assign(graph.edges.size(), false);
  }

  std::vector<std::vector<double>> places() {
    for (const bool rings : {false, true})
      for (const SideNode& n : graph_.nodes)
        for (const SideArm a : n.arms)
          if (passes(n) == rings && !seen_[a.edge]) follow(a, rings);
    for (auto& p : places_) std::sort(p.begin(), p.end());
    return std::move(places_);
  }

 private:
  void follow(SideArm arm, bool ring) {
    std::vector<SideArm> chain;
    double length = 0;
    while (!seen_[arm.edge]) {
      seen_[arm.edge] = true;
      chain.push_back(arm);
      const SideEdge& e = graph_.edges[arm.edge];
      length += e.length;
      const SideNode& n = graph_.nodes[e.node[arm.end == 0 ? 1 : 0]];
      if (!passes(n)) break;
      const bool first = n.arms[0].edge == arm.edge && n.arms[0].end != arm.end;
      arm = n.arms[first ? 1 : 0];
    }
    const double wanted = every_ > 0 ? std::ceil(length / every_) : 1;
    const double number = std::min(ring ? std::max(1.0, wanted) : wanted - 1, length / 1000);
    spread(chain, length, ring, std::max(number, ring ? 1.0 : 0.0));
  }

  void spread(const std::vector<SideArm>& chain, double length, bool ring, double number) {
    size_t at = 0;
    double done = 0;
    for (double k = 1; k <= number; ++k) {
      const double wanted = ring ? (k - 0.5) * length / number : k * length / (number + 1);
      while (at + 1 < chain.size() && done + graph_.edges[chain[at].edge].length < wanted)
        done += graph_.edges[chain[at++].edge].length;
      const SideEdge& e = graph_.edges[chain[at].edge];
      add(chain[at].edge, chain[at].end == 0 ? wanted - done : e.length - (wanted - done));
    }
  }

  // On one leg, clear of bends and of what the corners take.
  void add(uint32_t edge, double place) {
    const SideEdge& e = graph_.edges[edge];
    const Stations stations(e.piece.line);
    const size_t leg = stations.leg(place);
    const double clear = std::min(e.half, (stations[leg + 1] - stations[leg]) / 2);
    place = std::clamp(place, stations[leg] + clear, stations[leg + 1] - clear);
    const double low = std::max(e.end[0].trim_left, e.end[0].trim_right) + 1'000;
    const double high = e.length - std::max(e.end[1].trim_left, e.end[1].trim_right) - 1'000;
    if (place < low || place > high) place = e.length / 2;
    std::vector<double>& places = places_[edge];
    if (places.empty() || std::abs(places.back() - place) >= 1'000) places.push_back(place);
  }

  const SideGraph& graph_;
  double every_;
  std::vector<std::vector<double>> places_;
  std::vector<bool> seen_;
};

}  // namespace

void set_corners(SideGraph& graph) {
  for (const SideNode& n : graph.nodes) {
    if (n.arms.size() == 1) set_dead_end(graph, n.arms[0]);
    for (size_t i = 0; n.arms.size() > 1 && i < n.arms.size(); ++i)
      set_corner(graph, n, n.arms[i], n.arms[(i + 1) % n.arms.size()]);
  }
}

std::vector<std::vector<double>> crossing_places(const SideGraph& graph, double every) {
  return Chains(graph, every).places();
}

}  // namespace withy
