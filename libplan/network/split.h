// Routes cut into pieces at the street nodes: ends, shared vertices, and wherever something hangs.
#pragma once
#include <vector>

#include "base/id.h"
#include "base/point.h"
#include "network/hang.h"
#include "scenario/demand.h"

namespace plan {

using PieceId = Id<struct PieceTag>;

struct Pieces {
  std::vector<Point> nodes;        // sorted, distinct
  Table<PieceId, RouteId> routes;  // of each piece
  Lists<PieceId, Point> lines;     // both ends are nodes; no two neighbours equal
};

Pieces split_routes(const Demand& demand, const Hangs& hangs);

}  // namespace plan
