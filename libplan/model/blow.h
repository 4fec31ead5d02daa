// Will a unit reach the far end of a duct path? A closed-form screen of a blow.
//
//   dF/ds = air - mu n - W sin a       F: effective compression, N; F = 0 at the head
//
// A head at x stands if the force needed at the feed, F(0), is at most the push limit less the supply
// pressure on the unit's section. A route is feasible if that holds for every 0 < x <= L.
//
// The screen only ever overstates the force: it may refuse what a full solver accepts (root sum of
// squares of weight and turning, any model of the coil up to `add`), never the reverse. Pieces of at most
// 25 m are walked from a group of heads back to the feed, each with an upper bound of its equation: the
// air of the group's farthest head (the weakest of the group), the smallest ratio of gradients of two
// friction laws, the exit pressure of the fastest flow, contact of a coil from the first newton, bends at
// full capstan with the four contacts of a stiff unit. The reason for each stands beside it. On the base
// route of the reference values it stops at 993 m where the full solution stalls at 1010 m.
//
// Drag is that of a unit at rest unless `end_speed` asks for more: at 0 a feasible blow is one that does
// not stall, so plan with the raised friction of the blow rules or with an end speed (20 m/min is usual;
// there the bounds are looser: 836 m for 914 m). `friction` is the effective value, not a data sheet's.
//
//   BlowScreen s = screen_blow(unit, bore, conditions, route);
//   if (!s.feasible) s = screen_blow(unit, bore, conditions, reversed(route));
//
// Cost: pieces x groups of 25 m, about 15 us for 800 m, 45 us with the scan for the smallest pressure. A
// planning aid: compressed air is dangerous, and a trial blow, the makers' limits and local codes decide.
// Source: force balance of Griffioen, J. Lightwave Technol. 7(2), 1989, and of push.h and air.h.
#pragma once
#include <span>
#include <vector>

#include "base/quantity.h"
#include "model/air.h"
#include "model/push.h"

namespace plan {

struct BlowConditions {
  double friction = 0;    // effective Coulomb friction of unit and duct
  double tortuosity = 0;  // rad turned per metre by the laid duct
  Pressure supply;
  Force push_limit;  // at the drive wheels: the crash-test limit
  Temperature air = celsius(20);
  double drag_factor = 1;  // on the drag coefficient of a unit at rest
  Speed end_speed = {};    // the unit must still move this fast everywhere
};

// A run, followed by a bend (angle 0 = none). A run of no length is allowed.
struct RouteElement {
  Length run;
  double slope_sine = 0;  // uphill positive in the direction of the blow
  Angle bend = {};
  Length bend_radius = {};
  friend bool operator==(const RouteElement&, const RouteElement&) = default;
};

struct BlowScreen {
  bool feasible = false;
  Force needed;     // largest force needed at the feed over all heads; at most `hopeless`
  Force available;  // push limit less the pressure on the unit's section; may be negative
  Length limiting;  // head position of the smallest reserve
  // Smallest supply pressure in steps of 0.5 bar that still passes; the given one if infeasible.
  Pressure needed_pressure;
  Length push_only;     // how far the push limit alone gets on this route, contact of a coil included
  double free_air = 0;  // m3/s of the bare bore, the largest flow of the job
};
inline constexpr Force hopeless = newtons(10000);

// Total: a unit that does not fit, a bend without radius or a route without length (which is feasible,
// and needs nothing) get an answer too.
BlowScreen screen_blow(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& conditions,
                       std::span<const RouteElement> route);
// Only whether it passes, several times cheaper.
bool blow_passes(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& conditions,
                 std::span<const RouteElement> route);

// The same route blown from its other end. A bend stays between the same two runs.
std::vector<RouteElement> reversed(std::span<const RouteElement> route);

// The longest route, whole metres up to 20 km, that repeats the pattern (cut where it ends), passes the
// screen and every shorter one with it. 0 for a pattern of no length.
Length longest_blow(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& conditions,
                    std::span<const RouteElement> pattern);

// A straight level blow without buckling in one closed form, the unit in the whole duct (no bare part
// ahead of it): p* = p_i + c - sqrt(c^2 + 2 p_i c), c = push/k; L = k (p_i^2 - p_a^2)/(2 mu W p*).
struct StraightBlow {
  Length longest;
  Length worst_head;  // where on the longest one the reserve is least
};
StraightBlow straight_blow(Force net_push, const BlowUnit& unit, const BlowBore& bore,
                           const BlowConditions& conditions);

}  // namespace plan
