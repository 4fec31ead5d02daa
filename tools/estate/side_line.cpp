#include "estate/side_line.h"

#include <algorithm>
#include <cmath>

#include "estate/side_graph.h"

namespace withy {
namespace {

// A leg of the side: from `start` along `direction`; the part that counts is from `low` to `high`.
struct SideLeg {
  plan::Point centre;  // the vertex of the centre-line it starts beside
  Vector start;        // from that vertex
  Vector direction;
  double length, low, high;
  double at;           // of the centre vertex along the centre-line
  bool bevel = false;  // begins apart from where the leg before ends
};

plan::Point point_of(const SideLeg& l, double along) {
  return moved(l.centre, l.start + l.direction * along);
}

enum class Meeting : uint8_t { joined, first_swallowed, second_swallowed };

// How leg k goes over into the next leg j: sets k.high, j.low and j.bevel.
Meeting meet(SideLeg& k, SideLeg& j, double half) {
  const double sine = cross(k.direction, j.direction), limit = mitre_limit * std::abs(half);
  const Vector between = vector_of(k.centre, j.centre) + j.start + k.start * -1;
  const double end = std::max(k.low, k.length);
  j.bevel = true;
  k.high = end;
  j.low = 0;
  if (std::abs(sine) < 1e-6) return Meeting::joined;
  const double u = cross(between, j.direction) / sine, v = cross(between, k.direction) / sine;
  if (std::hypot(v, half) > limit) {
    if (v < 0) return Meeting::joined;
    k.high = std::clamp(k.length - limit, k.low, end);
    j.low = std::min(j.length, limit);
    return Meeting::joined;
  }
  k.high = std::clamp(u, k.low, std::max(end, u));
  j.low = std::clamp(v, std::min(0.0, v), j.length);
  if (u < k.low) return Meeting::first_swallowed;
  if (v > j.length) return Meeting::second_swallowed;
  j.bevel = false;
  return Meeting::joined;
}

std::vector<SideLeg> legs_of(const DraftRoute& c, const Stations& stations, double from, double to,
                             double half) {
  std::vector<SideLeg> legs;
  plan::Point a = point_at(c.line, stations, from);
  double at = from;
  for (size_t i = stations.leg(from) + 1; i < c.line.size(); ++i) {
    const bool last = stations[i] >= to;
    const plan::Point b = last ? point_at(c.line, stations, to) : c.line[i];
    if (a != b) {
      // Directions from the whole leg: a short rest of it would turn with the rounding of its ends.
      const Vector d = unit(vector_of(c.line[i - 1], c.line[i]));
      const Vector rest = vector_of(a, b);
      legs.push_back({a, left_of(d) * half, d, std::hypot(rest.x, rest.y), 0, 0, at});
    }
    if (last) break;
    a = b;
    at = stations[i];
  }
  return legs;
}

std::vector<SideLeg> kept_legs(std::vector<SideLeg> legs, double half) {
  std::vector<SideLeg> kept;
  for (size_t n = 0; n < legs.size(); ++n) {
    SideLeg j = legs[n];
    const bool last = n + 1 == legs.size();
    bool keep = true;
    while (!kept.empty()) {
      const Meeting m = meet(kept.back(), j, half);
      if (m == Meeting::joined) break;
      if (m == Meeting::second_swallowed && !last) {
        keep = false;
        break;
      }
      if (kept.size() == 1) break;  // the first leg stays, with a bevel
      kept.pop_back();
    }
    if (keep) kept.push_back(j);
  }
  return kept;
}

}  // namespace

plan::Point side_foot(const std::vector<plan::Point>& line, const Stations& stations, double at,
                      double half) {
  const size_t i = stations.leg(at);
  const Vector d = unit(vector_of(line[i], line[i + 1]));
  return moved(line[i], d * (at - stations[i]) + left_of(d) * half);
}

void lay_side(const DraftRoute& centre, const SideStops& stops, double half, DraftRoute& out) {
  const Stations stations(centre.line);
  const bool high = centre.heights.size() == centre.line.size();
  out.line.clear();
  out.heights.clear();
  const auto add = [&](plan::Point p, double at) {
    if (!out.line.empty() && out.line.back() == p) return;
    out.line.push_back(p);
    if (high) out.heights.push_back(height_at(centre.heights, stations, at));
  };
  add(stops.feet[0], stops.at[0]);
  for (size_t s = 1; s < stops.at.size(); ++s) {
    const auto kept = kept_legs(legs_of(centre, stations, stops.at[s - 1], stops.at[s], half), half);
    for (size_t i = 1; i < kept.size(); ++i) {
      const SideLeg &k = kept[i - 1], &j = kept[i];
      add(point_of(k, k.high), k.at + std::clamp(k.high, 0.0, k.length));
      if (j.bevel) add(point_of(j, j.low), j.at + std::clamp(j.low, 0.0, j.length));
    }
    add(stops.feet[s], stops.at[s]);
  }
}

}  // namespace withy
