// Where legs of lines meet without sharing a vertex: they cross, or a vertex of one lies on another.
//
//   const LegMeetings found = leg_meetings(legs, {});
//   for (const LegMeeting& m : found.all) …            // in the order of the legs
//   if (!found.complete) …                             // hostile: left as it is beyond a limit
//
// A crossing is proper where it lies inside both legs; legs that share an end do not cross there. A touch is
// an end of one leg within `touch` of the inside of another. Legs of other levels do not meet. Boxes of legs
// in a tree (box_index.h): O((n + meetings) log n) wherever the legs lie. Legs that lie all upon each
// other would be tried n2 times: after `tries_a_leg` tries for each leg on average, and after
// `most_meetings`, the search ends. The order of the legs decides which are found then, and nothing else.
#pragma once
#include <cstdint>
#include <vector>

#include "base/point.h"

namespace withy {

struct LineLeg {
  plan::Point a, b;
  int level = 0;
};
struct LegMeeting {
  uint32_t leg = 0, other = 0;  // a crossing: leg < other; a touch: the end lies on `leg` and is of `other`
  bool touch = false;
  plan::Point at;  // whole keys where they cross, the end itself where it touches
};
struct MeetingRules {
  int64_t key = 10;    // mm
  int64_t touch = 30;  // mm; 0: touches are not looked for
  uint64_t tries_a_leg = 200, most_meetings = 5'000'000;
};
struct LegMeetings {
  std::vector<LegMeeting> all;
  bool complete = true;
};
LegMeetings leg_meetings(const std::vector<LineLeg>& legs, const MeetingRules& rules);

// The point of the leg nearest to `p`, on whole keys; squared distance in mm2.
plan::Point nearest_on(const LineLeg& leg, plan::Point p, int64_t key);
double square_between(plan::Point a, plan::Point b);
// The nearest whole key, halves upwards.
int64_t keyed(int64_t millimetres, int64_t key);

}  // namespace withy
