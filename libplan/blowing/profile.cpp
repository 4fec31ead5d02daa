#include "blowing/profile.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace plan {
namespace {

// The polyline of a route, each vertex with its distance from the station and the slope that leads to it.
struct LaidLine {
  std::vector<Point> at;
  std::vector<Length> distance;
  std::vector<double> slope_sine;  // uphill positive, going away from the station
  Length length;
};

// Of a span that climbs evenly from end to end.
double slope_sine(const Network& network, SpanId s, bool forward) {
  const double climb = in_metres(rise(network, s));
  if (climb == 0) return 0;
  const double sine = climb / std::hypot(climb, in_metres(network.spans[s].length));
  return forward ? sine : -sine;
}

LaidLine line_of(const BlowingInput& in, LinkId link) {
  LaidLine line;
  NodeId node = in.layout.stations[in.layout.links[link].from].node;
  for (SpanId s : in.layout.routes[link]) {
    const Span& span = in.network.spans[s];
    const bool forward = node == span.from;
    PLAN_CHECK(forward || node == span.to);
    extend_line(line.at, in.network.shapes[s], forward);
    const Length end = line.length + span.length;
    line.slope_sine.resize(line.at.size(), slope_sine(in.network, s, forward));
    while (line.distance.size() < line.at.size()) {
      const size_t i = line.distance.size();
      const Length leg = i == 0 ? Length() : distance(line.at[i - 1], line.at[i]);
      line.distance.push_back(std::min(end, (i == 0 ? Length() : line.distance.back()) + leg));
    }
    line.distance.back() = line.length = end;
    node = forward ? span.to : span.from;
  }
  return line;
}

bool in_line(const Ducts& ducts, SectionId a, SectionId b) {
  const Section &x = ducts.sections[a], &y = ducts.sections[b];
  return x.to == ducts.runs[x.run].to && ducts.runs[x.run].bundle == ducts.runs[y.run].bundle &&
         x.position == y.position;
}

class Profiler {
 public:
  Profiler(const BlowingInput& in, LinkId link) : in_(in), link_(link), line_(line_of(in, link)) {}

  BlowProfile profile() {
    p_.length = line_.length;
    p_.cable = in_.fibre.cables[link_].cable;
    take_ducts();
    p_.complete = p_.cable.valid() && (p_.bore.valid() || line_.length == Length());
    if (p_.complete) add_elements();
    return p_;
  }

 private:
  void take(MicroductId m) {
    const auto& all = in_.duct_catalogue.microducts;
    if (!p_.bore.valid() || all[m].id < all[p_.bore].id) p_.bore = m;
    if (!p_.weakest.valid() || all[m].rated < all[p_.weakest].rated) p_.weakest = m;
  }

  // Microducts on the way and the distances of the turn-outs.
  void take_ducts() {
    const std::span<const SectionId> path = in_.ducts.paths[link_];
    Length end;
    for (size_t i = 0; i < path.size(); ++i) {
      const Section& s = in_.ducts.sections[path[i]];
      take(in_.duct_catalogue.bundles[in_.ducts.runs[s.run].bundle].microduct);
      end += s.length;
      if (i + 1 < path.size() && !in_line(in_.ducts, path[i], path[i + 1])) turn_outs_.push_back(end);
    }
    const bool drop_first =
        path.empty() && !in_.layout.routes[link_].empty() && is_drop(in_.layout.routes[link_].front());
    if (end < line_.length && (drop_first || (!path.empty() && is_drop(in_.layout.routes[link_].back())))) {
      take(in_.duct_rules.drop_microduct);
      const bool begun = !path.empty() && role_of(path.back()) == DuctRole::drop;
      if (!path.empty() && !begun) turn_outs_.push_back(end);
    }
  }

  bool is_drop(SpanId s) const { return in_.network.spans[s].kind == SpanKind::drop; }
  DuctRole role_of(SectionId s) const { return in_.ducts.runs[in_.ducts.sections[s].run].role; }

  void run_to(Length here, double slope, Angle bend, Length radius) {
    p_.route.push_back({here - last_, slope, bend, radius});
    last_ = here;
  }

  // Runs of one slope between bends.
  void add_elements() {
    size_t next = 0;
    for (size_t i = 1; i + 1 < line_.at.size(); ++i) {
      const Length here = line_.distance[i];
      const double slope = line_.slope_sine[i];
      while (next < turn_outs_.size() && turn_outs_[next] < here) ++next;
      const bool turns_out = next < turn_outs_.size() && turn_outs_[next] == here;
      const Angle sharp = turn(line_.at[i - 1], line_.at[i], line_.at[i + 1]);
      if (!turns_out && sharp < in_.duct_rules.corner) {
        if (slope != line_.slope_sine[i + 1] && here > last_) run_to(here, slope, {}, {});
        continue;
      }
      const Length radius = turns_out ? in_.duct_rules.turn_out_radius : in_.duct_rules.corner_radius;
      run_to(here, slope, std::max(sharp, in_.duct_rules.corner), radius);
    }
    if (line_.length > last_) run_to(line_.length, line_.slope_sine.back(), {}, {});
  }

  const BlowingInput& in_;
  LinkId link_;
  LaidLine line_;
  std::vector<Length> turn_outs_;
  Length last_;  // how far the elements reach
  BlowProfile p_;
};

}  // namespace

BlowProfile blow_profile(const BlowingInput& in, LinkId link) {
  return Profiler(in, link).profile();
}

int bends_in(const BlowProfile& profile) {
  return static_cast<int>(std::count_if(profile.route.begin(), profile.route.end(),
                                        [](const RouteElement& e) { return e.bend > Angle(); }));
}

uint64_t signature(const BlowProfile& profile) {
  uint64_t h = 14695981039346656037ULL;
  const auto mix = [&h](uint64_t v) {
    h = (h ^ v) * 1099511628211ULL;
    h ^= h >> 32;
  };
  mix(profile.cable.value);
  mix(profile.bore.value);
  for (const RouteElement& e : profile.route) {
    mix(static_cast<uint64_t>(e.run.micrometres()));
    mix(std::bit_cast<uint64_t>(e.slope_sine));
    mix(std::bit_cast<uint64_t>(e.bend.raw()));
    mix(static_cast<uint64_t>(e.bend_radius.micrometres()));
  }
  return h;
}

}  // namespace plan
