// Shorter ways for what hangs too deep on the trench forest, at the least new trench.
//
// After S. Khuller, B. Raghavachari, N. Young, "Balancing minimum spanning trees and shortest-path trees",
// Algorithmica 14 (1995) 305-321: an end that is too deep is hung on by a chord. Theirs is the shortest path
// from the root; here the cheapest of a few paths to any node from which the limit holds, each the least by
// opening plus a price of a metre, from that of a feeder up to no regard of the opening (the Lagrangian of
// the constrained shortest path: G. Y. Handler, I. Zang, "A dual algorithm for the constrained shortest path
// problem", Networks 10 (1980) 293-309). The path ends at the first such node, so whatever it passes comes
// to lie less deep than before, with all that hangs on it: nothing gets longer and no circle closes.
#pragma once
#include <cstdint>
#include <vector>

#include "layout/forest.h"

namespace plan {

struct ShorteningGround {
  const Network& network;
  const Basis& basis;
  const StreetGraph& graph;                // of the spans that may be used
  const Table<NodeId, int64_t>& shortest;  // mm to the nearest headend over them; `unreachable` where none
};
Table<NodeId, int64_t> shortest_ways(const Network& network, const StreetGraph& graph);

// Brings every one of `ends` (nodes of the forest), the deepest first, to `limit` millimetres or less where
// any path is that short; then branches that lead nowhere any more are cut. True if anything moved. A search
// costs what lies within the limit; above 300 million nodes looked at, the shortest path is taken unpriced.
bool shorten(TrenchForest& forest, const ShorteningGround& ground, std::vector<NodeId> ends, int64_t limit);

}  // namespace plan
