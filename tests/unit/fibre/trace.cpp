#include "unit/fibre/trace.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace trace {
using namespace plan;
namespace {

struct Tracer {
  const FibreInput& in;
  const Fibre& fibre;
  std::vector<std::string> faults = {};
  std::map<std::tuple<uint32_t, uint32_t, int>, int> throughs = {};  // station, link, fibre
  std::map<std::pair<uint32_t, int>, std::string> on_fibre = {}, on_port = {}, on_olt = {};

  void fault(std::string what) { faults.push_back(std::move(what)); }

  // The same thing may be met again only by the same user.
  void note(std::map<std::pair<uint32_t, int>, std::string>& used, std::pair<uint32_t, int> thing,
            const std::string& user, const char* kind) {
    const auto [at, fresh] = used.emplace(thing, user);
    if (!fresh && at->second != user)
      fault(fmt::format("{} {}/{} used by {} and by {}", kind, thing.first, thing.second, at->second, user));
  }

  // Follows a fibre that carries `user` towards the headend. Ends at a splitter output or an OLT port:
  // returns the station, and the OLT port where it is one (0 otherwise).
  std::pair<StationId, int> follow(LinkId link, int position, const std::string& user) {
    while (true) {
      const LinkCable& c = fibre.cables[link];
      if (position < 1 || (c.cable.valid() && position > in.catalogue.cables[c.cable].fibres))
        fault(fmt::format("{} on fibre {} of link {}", user, position, link.value));
      note(on_fibre, {link.value, position}, user, "fibre");
      const StationId at = in.layout.links[link].from;
      const auto through = throughs.find({at.value, link.value, position});
      if (through == throughs.end()) return {at, 0};
      if (in.layout.stations[at].kind == StationKind::headend) return {at, through->second};
      link = in.layout.feeds[at];
      position = through->second;
    }
  }

  // The OLT port that a splitter hangs on, its stages from the outlet inwards in `stages`.
  std::pair<StationId, int> climb(SplitterId id, std::vector<int>& stages) {
    while (true) {
      const Splitter& s = fibre.splitters[id];
      stages.push_back(s.stage);
      const std::string user = fmt::format("splitter {}", id.value);
      std::pair<StationId, int> end{s.station, 0};
      if (s.feed_fibre > 0) end = follow(in.layout.feeds[s.station], s.feed_fibre, user);
      if (!s.upstream.valid()) {
        if (in.layout.stations[end.first].kind != StationKind::headend)
          fault(user + " ends short of a headend");
        return {end.first, end.second == 0 ? fibre.pons[s.pon].port : end.second};
      }
      take_port(s.upstream, s.upstream_port, end, user);
      if (s.pon != fibre.splitters[s.upstream].pon) fault(user + " on another PON than its upstream");
      id = s.upstream;
    }
  }

  void take_port(SplitterId of, int port, std::pair<StationId, int> reached, const std::string& user) {
    const Splitter& s = fibre.splitters[of];
    const int ratio = in.layout_rules.split[static_cast<size_t>(s.stage)].ratio;
    if (port < 1 || port > ratio) fault(fmt::format("{} on port {} of 1:{}", user, port, ratio));
    if (s.station != reached.first || reached.second != 0) fault(user + " does not reach its splitter");
    note(on_port, {of.value, port}, user, "port");
  }

  void dwelling(DwellingId id) {
    const Dwelling& d = fibre.dwellings[id];
    const std::string user = fmt::format("dwelling {}", id.value);
    const LinkId drop = in.layout.drops[d.premises];
    if (!drop.valid()) {
      if (d.state != LightState::unlit || d.pon.valid()) fault(user + " is lit but not served");
      return;
    }
    if (d.state != (in.basis.needs[d.premises].reserved ? LightState::reserved : LightState::lit))
      fault(user + " has the wrong state");
    if (d.link != drop) fault(user + " on another link than its premises");
    std::pair<StationId, int> end{in.layout.links[drop].to, 0};
    if (d.fibre > 0) end = follow(drop, d.fibre, user);
    if (d.fibre == 0 && !end.first.valid()) return fault(user + " has no fibre");
    std::vector<int> stages;
    if (d.splitter.valid()) {
      take_port(d.splitter, d.port, end, user);
      end = climb(d.splitter, stages);
    }
    std::reverse(stages.begin(), stages.end());
    if (stages != stages_of(d.premises)) fault(user + " does not pass the stages of its stations");
    olt(d, end, user);
  }

  void olt(const Dwelling& d, std::pair<StationId, int> end, const std::string& user) {
    if (!d.pon.valid()) return fault(user + " has no PON");
    const Pon& pon = fibre.pons[d.pon];
    if (pon.headend != in.layout.stations[end.first].headend || pon.port != end.second)
      fault(fmt::format("{} ends at OLT port {} and not at {}", user, end.second, pon.port));
    note(on_olt, {pon.headend.value, pon.port}, fmt::format("pon {}", d.pon.value), "OLT port");
  }

  // The stages that the stations on the way from the headend to a premises offer, each once.
  std::vector<int> stages_of(PremisesId p) const {
    const Link& drop = in.layout.links[in.layout.drops[p]];
    std::set<int> stages;
    int level = static_cast<int>(in.layout_rules.split.size());
    for (StationId s = drop.to.valid() ? drop.to : drop.from; s.valid(); s = in.layout.stations[s].upstream) {
      const Station& station = in.layout.stations[s];
      for (int k = station.first_stage; k < station.first_stage + station.stages; ++k)
        if (k < level) stages.insert(k);
      if (station.stages > 0) level = std::min(level, station.first_stage);
    }
    return {stages.begin(), stages.end()};
  }

  void run() {
    for (StationId s : fibre.throughs.ids())
      for (const Through& t : fibre.throughs[s])
        if (!throughs.emplace(std::tuple(s.value, t.link.value, t.fibre), t.feed_fibre).second)
          fault(fmt::format("fibre {} of link {} spliced through twice", t.fibre, t.link.value));
    size_t planned = 0;
    for (const PremisesNeed& n : in.basis.needs) planned += n.planned ? static_cast<size_t>(n.dwellings) : 0;
    if (planned != fibre.dwellings.size()) fault("dwellings missing or too many");
    for (DwellingId d : fibre.dwellings.ids()) dwelling(d);
    for (LinkId l : in.layout.links.ids()) contiguous(l);
    count_pons();
  }

  // Used fibres of a cable are 1 … fibres_used.
  void contiguous(LinkId l) {
    const int n = fibre.cables[l].fibres_used;
    for (int k = 1; k <= n && in.rules.fibres_per_dwelling == 1; ++k)
      if (on_fibre.count({l.value, k}) == 0)
        fault(fmt::format("fibre {} of link {} counted, not used", k, l.value));
    if (on_fibre.count({l.value, n + 1}) != 0 && in.rules.fibres_per_dwelling == 1)
      fault(fmt::format("link {} uses more than {} fibres", l.value, n));
  }

  void count_pons() {
    std::vector<int> ultimate(fibre.pons.size(), 0);
    for (const Dwelling& d : fibre.dwellings)
      if (d.pon.valid()) ultimate[d.pon.value] += 1;
    for (PonId p : fibre.pons.ids()) {
      const Pon& pon = fibre.pons[p];
      if (pon.ultimate != ultimate[p.value] || pon.day_one > pon.ultimate || pon.ultimate == 0)
        fault(fmt::format("pon {} counts {} of {} dwellings", p.value, pon.ultimate, ultimate[p.value]));
      if (p.value == 0) continue;
      const Pon& before = fibre.pons[PonId(p.value - 1)];
      if (std::pair(before.headend, before.port) >= std::pair(pon.headend, pon.port))
        fault("PONs out of order");
    }
  }
};

}  // namespace

std::vector<std::string> faults(const FibreInput& input, const Fibre& fibre) {
  Tracer tracer{input, fibre};
  tracer.run();
  return tracer.faults;
}

}  // namespace trace
