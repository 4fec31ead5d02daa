// Areas of OpenStreetMap relations: member ways are joined end to end into rings, and rings are told
// apart into outsides and courtyards by what lies in what, not by the members' roles, which are often
// wrong. Deterministic: where several ways leave one node, the earlier member goes on.
#pragma once
#include <vector>

#include "estate/osm_places.h"

namespace withy {

struct OsmRings {
  std::vector<OsmLine> closed;  // first node = last node, at least three places
  std::vector<OsmLine> open;    // chains that do not close
};
// Pieces are ways in the order of the members. Linear but for a sort.
OsmRings joined(std::vector<OsmLine> pieces);

// Outsides and their courtyards: a ring inside an odd number of others is a courtyard of the smallest of
// them. Rings touching in places or along edges are fine; of crossing rings the answer is some nesting.
// `work` bounds the edges looked at; nothing is given once it is used up.
struct OsmPart {
  std::vector<OsmLine> rings;  // the outside first
};
std::vector<OsmPart> nested(std::vector<OsmLine> rings, int64_t work = 100'000'000);

}  // namespace withy
