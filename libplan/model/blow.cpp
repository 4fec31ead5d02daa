#include "model/blow.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/blow_bound.h"
#include "model/riccati.h"

namespace plan {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double piece_metres = 25;  // longest piece, and longest group of heads
constexpr double most_groups = 400;  // longer routes get longer pieces: looser, still on the safe side

struct Screen {
  BlowUnit unit;
  BlowBore bore;
  std::vector<Piece> pieces;
  double length = 0;
  Rub rub;
  double available = 0;
  // Air: p^2 at the inlet, its whole drop, drag coefficient at rest, least ratio of gradients.
  double inlet_square = 0, drop = 0, drag = 0, ratio = 1;
  // A moving unit: its speed, least air speed times pressure, share of the gradient left at the inlet.
  double unit_speed = 0, stream = 0, gradient_share = 1;
  AirLine bare;
  double bare_flow = 0, least_flow = 0;  // kg/s
  bool hopeless = false;
};

// Pieces [first, last] that hold the heads of one group.
struct Group {
  size_t first, last;
};

void add_pieces(Screen& s, const RouteElement& e, double longest) {
  const double weight = in_grams_per_metre(s.unit.mass) / 1000 * standard_gravity;
  const double run = std::max(0.0, in_metres(e.run));
  const double sine = std::clamp(e.slope_sine, -1.0, 1.0);
  const bool bends = in_radians(e.bend) > 0;
  const size_t n = static_cast<size_t>(std::max(1.0, std::ceil(run / longest)));
  for (size_t i = 0; i < n; ++i) {
    const double length = run / static_cast<double>(n);
    s.pieces.push_back({s.length + static_cast<double>(i) * length, length,
                        weight * std::sqrt(1 - sine * sine), weight * sine, 1, 0});
  }
  s.length += run;
  if (!bends) return;
  if (e.bend_radius <= Length{}) s.hopeless = true;
  s.pieces.back().capstan = std::exp(s.rub.friction * in_radians(e.bend));
  s.pieces.back().catch_force =
      s.hopeless ? 0 : 2 * s.rub.friction * in_newtons(bend_contact(s.unit, s.bore, e.bend_radius));
}

Screen laid_out(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& c,
                std::span<const RouteElement> route) {
  Screen s;
  s.unit = unit;
  s.bore = bore;
  s.rub = {c.friction, std::abs(c.tortuosity), 0};
  s.hopeless = bore.id <= unit.od || unit.od <= Length{} || !(c.friction >= 0);
  if (s.hopeless) return s;
  s.rub.buckling = rubbing(unit, bore, c.friction).buckling;
  double total = 0;
  for (const RouteElement& e : route) total += std::max(0.0, in_metres(e.run));
  for (const RouteElement& e : route) add_pieces(s, e, std::max(piece_metres, total / most_groups));
  return s;
}

// A flow no greater than that of a unit at rest in the whole duct, under either friction law: the
// smaller of laminar and Blasius flow, less 3 % for where the all-regime factor lies above both.
double least_flow(const AirLine& line) {
  const double inlet = in_pascals(line.inlet), gap = in_metres(line.bore - line.unit);
  const double drop = inlet * inlet - ambient_pascals * ambient_pascals;
  const double laminar =
      drop * flow_area(line.bore, line.unit) * gap * gap /
      (64 * air_viscosity(line.air) * specific_gas_energy(line.air) * in_metres(line.length));
  return 0.97 * std::min(laminar, air_flow(line, WallFriction::blasius).kg_per_second);
}

// The smallest ratio of gradients beside the unit and beyond it, over the flows this job can have:
// less ratio means less drop beside the unit, so less drag for every head short of the far end.
void set_ratio(Screen& s) {
  if (s.drop <= 0) return;
  const Length bore = s.bore.id, unit = s.unit.od;
  s.ratio = occupied_gradient_ratio(bore, unit);
  const double areas = flow_area(bore, {}) / flow_area(bore, unit), widths = bore / (bore - unit);
  const double low = reynolds(s.least_flow, bore, {}, s.bare.air);
  const double high =
      1.3 * reynolds(s.bare_flow, bore, {}, s.bare.air);  // 1.3: all regimes, before turbulence
  constexpr int samples = 8;
  const double step = std::pow(high / low, 1.0 / (samples - 1));
  double re = low;
  for (int i = 0; i < samples; ++i, re *= step) {
    const double beside = friction_factor(re * (bore / (bore + unit)), WallFriction::all_regimes);
    const double beyond = friction_factor(re, WallFriction::all_regimes);
    s.ratio = std::min(s.ratio, beside / beyond * areas * areas * widths);
  }
}

void set_air(Screen& s, const BlowConditions& c) {
  const double inlet = std::max(ambient_pascals, in_pascals(c.supply)), gauge = inlet - ambient_pascals;
  s.available = in_newtons(c.push_limit) - gauge * flow_area(s.unit.od, {});
  s.inlet_square = inlet * inlet;
  s.drop = s.drag = 0;
  if (gauge <= 0 || s.length <= 0) return;
  s.bare = {s.bore.id, {}, metres(s.length), {}, c.supply, c.air};
  const AirFlow flow = air_flow(s.bare, WallFriction::blasius);
  s.bare_flow = flow.kg_per_second;
  // The bare bore has the largest flow and so the highest exit pressure; taken for every head it
  // understates the drop of all others.
  s.drop = inlet * inlet - in_pascals(flow.exit) * in_pascals(flow.exit);
  s.drag = c.drag_factor * drag_coefficient(s.bore.id, s.unit.od);
  AirLine full = s.bare;
  full.unit = s.unit.od;
  full.occupied = full.length;
  s.least_flow = least_flow(full);
  // The air is slowest at the inlet and with the duct full; both shares of a moving unit grow with it.
  const double slowest = air_speed(s.least_flow, flow_area(s.bore.id, s.unit.od), c.supply, c.air);
  s.unit_speed = in_metres_per_minute(c.end_speed) / 60;
  s.stream = slowest * inlet;
  s.gradient_share = moving_share(s.bore.id, s.unit.od, s.unit_speed, slowest).gradient;
}

// What is left of the drag where the pressure is at most p: there the air is at least stream/p fast.
// The profile already counts the inlet's share of the gradient, the least of all.
double moving_factor(const Screen& s, double p) {
  if (s.unit_speed <= 0) return 1;
  if (s.gradient_share <= 0) return 0;
  const MovingShare left = moving_share(s.bore.id, s.unit.od, s.unit_speed, s.stream / p);
  return left.drag * left.gradient / s.gradient_share;
}

// Largest force needed at the feed by any head of the group.
double needed_by(const Screen& s, Group g) {
  const double end = s.pieces[g.last].start + s.pieces[g.last].length;
  // The farther the head, the less drop beside the unit: the group's last head has the least air.
  const double fall =
      s.drop <= 0 ? 0 : s.gradient_share * s.drop * s.ratio / (s.ratio * end + s.length - end);
  const double limit = in_newtons(hopeless);
  double f = 0;
  if (g.last + 1 == s.pieces.size()) f = std::max(0.0, through_bend(0, s.pieces[g.last]));
  double down = std::sqrt(std::max(0.0, s.inlet_square - fall * end));
  for (size_t i = g.last + 1; i-- > 0;) {
    const Piece& p = s.pieces[i];
    if (i < g.last) f = through_bend(f, p);
    const double up = std::sqrt(std::max(0.0, s.inlet_square - fall * p.start));
    const double drag = s.drag * moving_factor(s, up);
    const Pull air{drag * (up - down), drag * fall / (2 * up)};
    f = i >= g.first ? with_heads_inside(s.rub, p, f, air) : across(s.rub, p, f, air);
    if (!(f < limit)) return limit;
    down = up;
  }
  return f;
}

std::vector<Group> groups(const Screen& s) {
  std::vector<Group> made;
  const double longest = std::max(piece_metres, s.length / most_groups);
  for (size_t i = 0; i < s.pieces.size();) {
    Group g{i, i};
    while (g.last + 1 < s.pieces.size() &&
           s.pieces[g.last + 1].start + s.pieces[g.last + 1].length - s.pieces[i].start <= longest * 1.000001)
      ++g.last;
    made.push_back(g);
    i = g.last + 1;
  }
  return made;
}

// From the far end, where most blows fail first; there the ratio of gradients does not matter yet.
bool passes(Screen& s, std::span<const Group> heads) {
  if (s.hopeless) return false;
  for (size_t i = heads.size(); i-- > 0;) {
    if (!(needed_by(s, heads[i]) <= s.available)) return false;
    if (i + 1 == heads.size()) set_ratio(s);
  }
  return true;
}

Length pushed_alone(const Screen& s, double push) {
  double f = push, reached = 0;
  for (const Piece& p : s.pieces) {
    const Riccati r{-(s.rub.friction * p.weight + p.grade), -s.rub.friction * s.rub.turning,
                    -s.rub.friction * s.rub.buckling};
    const double stop = f > 0 ? riccati_zero(r, f) : 0;
    if (stop < p.length) return metres(reached + stop);
    f = stop <= p.length ? 0 : riccati_at(r, f, p.length);
    reached += p.length;
    f = (f - p.catch_force) / p.capstan - p.catch_force;
  }
  return metres(reached);
}

Pressure least_pressure(Screen s, std::span<const Group> heads, BlowConditions c) {
  const Pressure given = c.supply;
  // With a fixed push the end effect grows with pressure: not monotone, so every step is tried.
  for (int step = 1; bar_gauge(0.5 * step) < given; ++step) {
    c.supply = bar_gauge(0.5 * step);
    set_air(s, c);
    if (passes(s, heads)) return c.supply;
  }
  return given;
}

}  // namespace

BlowScreen screen_blow(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& c,
                       std::span<const RouteElement> route) {
  Screen s = laid_out(unit, bore, c, route);
  BlowScreen out;
  out.needed_pressure = c.supply;
  if (s.hopeless) {
    out.needed = hopeless;
    out.available = c.push_limit;
    return out;
  }
  set_air(s, c);
  set_ratio(s);
  const std::vector<Group> heads = groups(s);
  double most = s.length > 0 ? -infinity : 0;
  for (const Group& g : heads)
    if (const double f = needed_by(s, g); f > most) {
      most = f;
      out.limiting = metres(s.pieces[g.last].start + s.pieces[g.last].length);
    }
  out.needed = newtons(most);
  out.available = newtons(s.available);
  out.feasible = most <= s.available && most < in_newtons(hopeless);
  if (out.feasible) out.needed_pressure = least_pressure(s, heads, c);
  out.push_only = pushed_alone(s, in_newtons(c.push_limit));
  out.free_air = free_air({s.bare_flow, {}, {}});
  return out;
}

bool blow_passes(const BlowUnit& unit, const BlowBore& bore, const BlowConditions& c,
                 std::span<const RouteElement> route) {
  Screen s = laid_out(unit, bore, c, route);
  if (s.hopeless) return false;
  set_air(s, c);
  return passes(s, groups(s));
}

}  // namespace plan
