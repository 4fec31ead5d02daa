// The rules of a drop once more, by trying every leg of every route in long doubles: no index, no code of the
// product but the folding of street names.
#pragma once
#include <cmath>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/point.h"
#include "estate/draft.h"
#include "estate/names.h"
#include "estate/premises.h"

namespace withy::brute {

struct Tried {
  double millimetres = 1e300;
  size_t route = 0;
};

// Share of the way from a to b that is nearest to p.
inline long double share(plan::Point a, plan::Point b, plan::Point p) {
  const long double ux = static_cast<long double>(b.x - a.x), uy = static_cast<long double>(b.y - a.y);
  const long double square = ux * ux + uy * uy;
  if (square == 0) return 0;
  const long double t =
      (static_cast<long double>(p.x - a.x) * ux + static_cast<long double>(p.y - a.y) * uy) / square;
  return t < 0 ? 0 : t > 1 ? 1 : t;
}
inline plan::Point foot(plan::Point a, plan::Point b, plan::Point p) {
  const long double t = share(a, b, p);
  return {a.x + std::llround(t * static_cast<long double>(b.x - a.x)),
          a.y + std::llround(t * static_cast<long double>(b.y - a.y))};
}
inline double to_leg(plan::Point a, plan::Point b, plan::Point p) {
  const long double t = share(a, b, p);
  return static_cast<double>(
      std::hypot(static_cast<long double>(p.x - a.x) - t * static_cast<long double>(b.x - a.x),
                 static_cast<long double>(p.y - a.y) - t * static_cast<long double>(b.y - a.y)));
}

// Of all routes with `drops`, or of those whose street folds to `street` where one is given.
inline Tried try_every_leg(std::span<const DraftRoute> routes, plan::Point p,
                           const std::string& street = {}) {
  Tried best;
  for (size_t i = 0; i < routes.size(); ++i) {
    if (!routes[i].drops || (!street.empty() && folded_street(routes[i].street) != street)) continue;
    const std::vector<plan::Point>& line = routes[i].line;
    for (size_t j = 0; j + 1 < line.size(); ++j) {
      const double here = to_leg(line[j], line[j + 1], p);
      if (here < best.millimetres) best = {here, i};
    }
  }
  return best;
}

// What is wrong with a premises whose drop had nothing in its way; empty where all agrees. `building` is how
// far its walls are at most from its centre, mm; 0 for an address point. A street within may run through it.
inline std::string fault_of(const DraftPremises& p, std::span<const DraftRoute> routes,
                            const PremisesRules& rules, double building = 0) {
  constexpr double rounding = 1.5;  // mm: both ends are whole millimetres
  const Tried nearest = try_every_leg(routes, p.centre);
  if (nearest.millimetres > 1e299) return "there is no street";
  const std::string own = folded_street(p.street);
  Tried due = nearest;
  if (!own.empty()) {
    const Tried street = try_every_leg(routes, p.centre, own);
    if (street.millimetres <= rules.own_street_factor * nearest.millimetres) due = street;
  }
  const bool from_own = folded_street(routes[due.route].street) == own && !own.empty();
  const Tried at_entry = try_every_leg(routes, p.at, from_own ? own : std::string());
  double length = try_every_leg(routes, p.at).millimetres;
  if (p.drop_from) {
    if (try_every_leg(routes, *p.drop_from).millimetres > rounding) return "the drop leaves no street";
    length = std::hypot(static_cast<double>(p.at.x - p.drop_from->x),
                        static_cast<double>(p.at.y - p.drop_from->y));
  }
  if (std::abs(length - at_entry.millimetres) > rounding) return "another point of its street is nearer";
  if (building == 0 && p.at != p.centre) return "the address point was moved";
  if (building == 0 && std::abs(length - due.millimetres) > rounding) return "another street is due";
  if (due.millimetres >= building && length > due.millimetres + rounding)
    return "the entry is farther than the centre";
  return {};
}

}  // namespace withy::brute
