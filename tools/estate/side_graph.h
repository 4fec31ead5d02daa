// Streets as pieces between junctions, their arms in angular order. Private to both_sides.cpp.
#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "estate/both_sides.h"
#include "estate/plane_vector.h"
#include "estate/route_line.h"

namespace withy {

// One end of a piece, seen outwards from its node.
struct SideEnd {
  double trim_left = 0, trim_right = 0;  // where the sides begin, mm along the piece; never negative
  plan::Point left, right;               // their first points
};
struct SideEdge {
  uint32_t route = 0;
  DraftRoute piece;  // line and heights between two nodes, nothing else
  double length = 0;
  double half = 0;                 // half-width
  std::array<uint32_t, 2> node{};  // at its start, at its end
  std::array<SideEnd, 2> end;
};
struct SideArm {
  uint32_t edge = 0;
  int end = 0;  // 0: the piece starts here
};
struct SideNode {
  plan::Point at;
  int32_t height = 0;
  std::vector<SideArm> arms;      // counter-clockwise from east
  std::vector<Vector> singles;    // directions of the single lines that meet here
  std::vector<uint32_t> sectors;  // that hold one: sector i lies left of arm i; ascending, once each
};
struct SideGraph {
  std::vector<SideEdge> edges;  // by route, along it
  std::vector<SideNode> nodes;  // by place
};

double half_width(const DraftRoute& route, const SideRules& rules);  // 0: stays a single line
SideGraph side_graph(const std::vector<DraftRoute>& routes, const SideRules& rules);
// The line of an arm from its node on: vertex n.
plan::Point arm_point(const SideGraph& graph, SideArm arm, size_t n);
// Fills SideEdge::end.
void set_corners(SideGraph& graph);
// Where each piece is crossed along its way, mm, ascending. `every` 0: only rings, once.
std::vector<std::vector<double>> crossing_places(const SideGraph& graph, double every);

}  // namespace withy
