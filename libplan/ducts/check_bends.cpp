#include <algorithm>
#include <array>

#include "ducts/checks.h"
#include "ducts/packing.h"
#include "model/bend.h"

namespace plan {
namespace {

// Where a radius is missed by most; ties go to the sharper turn, then to the first.
struct Worst {
  Length limit;
  Angle turn;
  SpanId span;
  RunId run;
  bool by_cold = false;  // the bundle's own radius at the laying temperature decides
  void take(const Worst& w) {
    if (!run.valid() || w.limit > limit || (w.limit == limit && w.turn > turn)) *this = w;
  }
};

class Bends {
 public:
  Bends(const DuctInput& in, Ducts& ducts) : in_(in), ducts_(ducts), unit_radius_(ducts.runs.size()) {
    std::vector<BendPoint> points;
    for (const RadiusAtTemperature& r : in.rules.bundle_radius) points.push_back({r.at, r.radius});
    bundle_radius_ = bundle_bend_radius(in.rules.laying_temperature, points).radius;
    for (const Section& s : ducts.sections)
      if (s.link.valid()) unit_radius_[s.run] = std::max(unit_radius_[s.run], unit_radius(s.link));
  }

  void corners() {
    for (RunId r : ducts_.runs.ids()) corners_of(r);
    tell(bundles_, in_.rules.corner_radius);
    tell(singles_, in_.rules.corner_radius);
  }

  void turn_outs() {
    for (const Joint& j : ducts_.joints) {
      if (!j.b.valid() || !ducts_.sections[j.b].link.valid() || in_line(j)) continue;
      const RunId from = ducts_.sections[j.a].run, to = ducts_.sections[j.b].run;
      const Length limit = std::max(microduct_limit(from), microduct_limit(to));
      turn_outs_.take({limit, {}, ducts_.run_spans[to].front(), to});
    }
    tell(turn_outs_, in_.rules.turn_out_radius);
  }

 private:
  Length unit_radius(LinkId link) const {
    const PremisesId p = in_.layout.links[link].premises;
    const CableId unit = p.valid() ? in_.basis.needs[p].unit : CableId();
    return unit.valid() ? in_.cables.cables[unit].bend_radius : Length();
  }

  const Bundle& bundle(RunId r) const { return in_.catalogue.bundles[ducts_.runs[r].bundle]; }
  Length microduct_limit(RunId r) const {
    return smallest_bend_radius(std::array{in_.catalogue.microducts[bundle(r).microduct].bend_radius,
                                           unit_radius_[r], in_.rules.blowing_radius});
  }
  bool in_line(const Joint& j) const {
    return ducts_.runs[ducts_.sections[j.a].run].to == j.node &&
           ducts_.runs[ducts_.sections[j.a].run].bundle == ducts_.runs[ducts_.sections[j.b].run].bundle &&
           ducts_.sections[j.a].position == ducts_.sections[j.b].position;
  }

  void corners_of(RunId r) {
    const Length own = microduct_limit(r);
    const bool many = bundle(r).ways > 1;
    if (std::max(own, many ? bundle_radius_ : own) <= in_.rules.corner_radius) return;
    std::vector<Point> line;
    NodeId at = ducts_.runs[r].from;
    size_t next = 1;  // first vertex not yet looked at
    for (SpanId s : ducts_.run_spans[r]) {
      extend_line(line, in_.network.shapes[s], at == in_.network.spans[s].from);
      at = far_end(in_.network, s, at);
      const bool cold = many && laid_in(in_.network, s) == LaidIn::ground && bundle_radius_ > own;
      for (; next + 1 < line.size(); ++next) {
        const Angle sharp = turn(line[next - 1], line[next], line[next + 1]);
        if (sharp < in_.rules.corner) continue;
        (many ? bundles_ : singles_).take({cold ? bundle_radius_ : own, sharp, s, r, cold});
      }
    }
  }

  void tell(const Worst& w, Length laid) {
    if (!w.run.valid() || w.limit <= laid) return;
    ducts_.findings.push_back({.rule = Rule::bend_too_tight,
                               .at = subject(w.span),
                               .by = subject(w.run),
                               .actual = in_metres(laid),
                               .limit = in_metres(w.limit),
                               .mend = w.by_cold ? Mend::warmer_laying : Mend::wider_corner,
                               .mend_amount = in_metres(w.limit)});
  }

  const DuctInput& in_;
  Ducts& ducts_;
  Table<RunId, Length> unit_radius_;
  Length bundle_radius_;
  Worst bundles_, singles_, turn_outs_;
};

void check_temperature(const DuctInput& in, Ducts& ducts) {
  const auto& points = in.rules.bundle_radius;
  if (points.empty() || ducts.runs.empty()) return;
  const auto coldest = std::min_element(points.begin(), points.end(),
                                        [](const auto& a, const auto& b) { return a.at < b.at; });
  if (in.rules.laying_temperature < coldest->at)
    ducts.findings.push_back({.rule = Rule::cold_laying,
                              .actual = in_celsius(in.rules.laying_temperature),
                              .limit = in_celsius(coldest->at),
                              .mend = Mend::warmer_laying});
}

}  // namespace

void check_bends(const DuctInput& in, Ducts& ducts) {
  Bends bends(in, ducts);
  bends.corners();
  bends.turn_outs();
  check_temperature(in, ducts);
}

}  // namespace plan
