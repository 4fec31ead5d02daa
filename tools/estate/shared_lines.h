// Lines of a source whose streets meet only where they share a vertex: what is drawn twice, and what crosses
// without meeting.
//
// Such a crossing is a bridge that nobody tagged more often than a junction that nobody drew, so that the
// streets stay apart; the list is for the person who knows the place. Streets on other levels, bridges and
// tunnels cross rightly and are not in it.
#pragma once
#include <cstdint>
#include <vector>

#include "base/point.h"
#include "estate/draft.h"

namespace withy {

// Routes whose line another route of the same level has too, in either direction: all but the first of each
// by class (the greater road first), then id. Ascending.
std::vector<uint32_t> drawn_twice(const std::vector<DraftRoute>& routes);

struct ApartCrossing {
  uint32_t route = 0, other = 0;  // of the lesser id first
  plan::Point at;
};
struct ApartCrossings {
  std::vector<ApartCrossing> all;  // by place
  bool complete = true;
};
ApartCrossings apart_crossings(const std::vector<DraftRoute>& routes);

}  // namespace withy
