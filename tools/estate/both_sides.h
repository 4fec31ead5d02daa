// Footways on both sides of streets that are known by their centre-lines.
//
//   draft.routes = both_sides(draft.routes, SideRules{}, draft.remarks);   // after cross_barriers
//
// Each street is divided at its junctions (vertices that routes of one level share, and ends); each piece
// gets a left and a right side, the half-width of its class away, "NAME left 1", "NAME right 1" … in the
// direction of its line. Around a junction neighbouring sides meet where their lines meet; where that is
// farther from the junction than three half-widths, or than the piece allows, a short piece joins them
// ("NAME corner 1"). A side keeps name, class, level and restrictions of its street and says `assumed`.
//
// The carriageway is crossed ("NAME crossing 1", surface and `crossing` say so, nothing leaves it midway)
// on each arm of a junction of three or more streets, at every dead end, and evenly along a street so that
// no stretch without one is longer than `crossing_every`; a ring has at least one.
//
// Soft ways, service ways, bridges, tunnels, ducts, special crossings and forbidden routes stay as they are.
// Where they meet streets, a piece from the junction reaches a near corner ("NAME joint 1"); other corners
// that such lines reach, and the far side of a street that nothing else crosses there, by a crossing.
//
// Promises: as many connected components as before; a side lies on its own side of its piece, at least
// where the street bends no tighter than its half-width; no piece without length; pieces that meet share
// the vertex to the millimetre; the order of the routes changes names at most. O(n log n).
// Half-widths and spacing: common practice, no source. Remarks are placed in the plane, metres.
#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "estate/draft.h"

namespace withy {

constexpr size_t street_classes = static_cast<size_t>(StreetClass::unstated) + 1;

struct SideRules {
  // From the centre-line to the middle of the footway, mm, by class; 0 = the class stays one line.
  std::array<int64_t, street_classes> half_width{8'000, 7'000, 6'500, 6'000, 5'000, 5'000, 4'000, 4'000, 0,
                                                 5'000, 0,     0,     0,     0,     0,     0,     5'000};
  // Of the sides, by class; empty = "paved footway".
  std::array<std::string, street_classes> surface;
  int64_t crossing_every = 100'000;  // mm; 0 = only at junctions and dead ends
};

std::vector<DraftRoute> both_sides(const std::vector<DraftRoute>& centre_lines, const SideRules& rules,
                                   std::vector<MapRemark>& remarks);

}  // namespace withy
