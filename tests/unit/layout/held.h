// Every promise of layout.h, derived again from the layout's own tables. Returns what is broken, empty
// where all is well.
#pragma once
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "estate.h"

namespace plan {

class Held {
 public:
  Held(const Estate& e, const Layout& l) : e_(e), l_(l) {}
  std::vector<std::string> broken() {
    for (LinkId i : l_.links.ids()) link(i);
    for (StationId s : l_.stations.ids()) station(s);
    for (PremisesId p : e_.basis.needs.ids()) premises(p);
    limits();
    costs();
    return out_;
  }

 private:
  template <class... A>
  void say(fmt::format_string<A...> text, A&&... a) {
    out_.push_back(fmt::format(text, std::forward<A>(a)...));
  }
  bool excused(Rule rule, Subject at) const {
    return std::any_of(l_.findings.begin(), l_.findings.end(),
                       [&](const Finding& f) { return f.rule == rule && f.at == at; });
  }
  Length length(LinkId i) const {
    Length sum;
    for (SpanId s : l_.routes[i]) sum += e_.network.spans[s].length;
    return sum;
  }

  void link(LinkId i) {
    const Link& link = l_.links[i];
    if (i.value > 0 && link.from < l_.links[LinkId(i.value - 1)].from) say("link {} out of order", i.value);
    NodeId at = l_.stations[link.from].node;
    for (SpanId s : l_.routes[i]) {
      const Span& span = e_.network.spans[s];
      if (span.from != at && span.to != at)
        return say("route of link {} is broken at span {}", i.value, s.value);
      at = span.from == at ? span.to : span.from;
      if (!e_.basis.usable[s] || span.forbidden) say("link {} lies in forbidden span {}", i.value, s.value);
      if (std::count(e_.asks.not_through.begin(), e_.asks.not_through.end(), s))
        say("link {} lies in full duct {}", i.value, s.value);
      used_.insert(s);
      const auto [entry, fresh] = entered_.try_emplace({link.from, at}, s);
      if (!fresh && entry->second != s) say("routes of station {} form no tree", link.from.value);
    }
    const NodeId end = link.to.valid() ? l_.stations[link.to].node : e_.network.premises_nodes[link.premises];
    if (at != end) say("route of link {} ends elsewhere", i.value);
    if (link.to.valid() && l_.feeds[link.to] != i) say("station {} has another feed", link.to.value);
    if (link.premises.valid() && l_.drops[link.premises] != i)
      say("premises {} has two drops", link.premises.value);
  }

  void station(StationId s) {
    const Station& here = l_.stations[s];
    const int end = here.first_stage + here.stages;
    if (here.stages < 0 || end > static_cast<int>(e_.rules.split.size()))
      say("station {} has odd stages", s.value);
    if (here.kind == StationKind::headend) {
      if (here.upstream.valid() || here.first_stage != 0) say("headend {} is fed", s.value);
      return;
    }
    if (!here.upstream.valid() || !(here.upstream < s)) return say("upstream of {} comes later", s.value);
    const Station& up = l_.stations[here.upstream];
    if (l_.links[l_.feeds[s]].from != here.upstream) say("feed of {} starts elsewhere", s.value);
    if (here.headend != up.headend) say("station {} changes headend", s.value);
    if (here.first_stage < up.first_stage || here.first_stage > up.first_stage + up.stages)
      say("stage {} of station {} has no light", here.first_stage, s.value);
    if (here.kind == StationKind::cabinet && e_.basis.sites_only && !here.site.valid())
      say("cabinet {} off site", s.value);
    if (here.kind == StationKind::cabinet && here.site.valid() && !e_.basis.site_allowed[here.site])
      say("cabinet {} on a forbidden site", s.value);
  }

  void premises(PremisesId p) {
    const LinkId i = l_.drops[p];
    if (!e_.basis.needs[p].planned) {
      if (i.valid()) say("premises {} is served and not planned", p.value);
      return;
    }
    if (!i.valid()) {
      if (!excused(Rule::premises_unserved, subject(p))) say("premises {} is unserved in silence", p.value);
      return;
    }
    const StationId last = l_.links[i].to.valid() ? l_.links[i].to : l_.links[i].from;
    if (l_.stations[last].first_stage + l_.stations[last].stages != static_cast<int>(e_.rules.split.size()))
      say("premises {} misses a stage", p.value);
    ++served_[last];
    dwellings_[last] += e_.basis.needs[p].dwellings;
    StationId s = l_.links[i].from;
    Length path = length(i);
    if (l_.stations[s].kind == StationKind::branch_point) path += length(l_.feeds[s]);
    Length limit = e_.basis.longest_drop;
    if (!e_.asks.longest.empty() && e_.asks.longest[p] > Length{})
      limit = std::min(limit, e_.asks.longest[p]);
    if (path > limit && !excused(Rule::drop_duct_too_long, subject(p)))
      say("premises {}: {} m exceed {} m", p.value, in_metres(path), in_metres(limit));
    if (path <= limit && excused(Rule::drop_duct_too_long, subject(p)))
      say("premises {} is not too far", p.value);
  }

  void limits() {
    std::map<StationId, int> leaving, direct, dwellings;
    for (const Link& link : l_.links) {
      ++leaving[link.from];
      const bool to_cabinet = link.to.valid() && l_.stations[link.to].kind == StationKind::cabinet;
      direct[link.from] += !to_cabinet;
      if (link.premises.valid()) dwellings[link.from] += e_.basis.needs[link.premises].dwellings;
    }
    for (StationId s : l_.stations.ids()) {
      const Station& here = l_.stations[s];
      if (here.premises_served != served_[s] || here.dwellings_served != dwellings_[s])
        say("station {} miscounts what it serves", s.value);
      if (here.kind == StationKind::headend && direct[s] > e_.basis.headends[here.headend].microduct_entries)
        say("headend {} has {} entries", s.value, direct[s]);
      if (here.kind == StationKind::branch_point && leaving[s] > e_.rules.branch_point_premises)
        say("branch point {} serves {}", s.value, leaving[s]);
      if (here.kind != StationKind::cabinet) continue;
      if (leaving[s] == 0) say("cabinet {} serves nobody", s.value);
      if (leaving[s] > e_.basis.cabinet.premises && !excused(Rule::cabinet_entries_exceeded, subject(s)))
        say("cabinet {} has {} entries", s.value, leaving[s]);
      if (dwellings[s] > e_.basis.cabinet.dwellings && !excused(Rule::cabinet_fibres_exceeded, subject(s)))
        say("cabinet {} has {} dwellings", s.value, dwellings[s]);
      if (length(l_.feeds[s]) > e_.basis.longest_feeder && !excused(Rule::feeder_duct_too_long, subject(s)))
        say("feeder of {} too long", s.value);
    }
  }

  void costs() {
    Money trench, drops;
    for (SpanId s : e_.network.spans.ids()) {
      if ((used_.count(s) != 0) != (l_.used[s] != 0)) say("span {} wrongly marked", s.value);
      if (!used_.count(s)) continue;
      trench += e_.basis.open_cost[s];
      if (e_.network.spans[s].kind == SpanKind::drop) drops += e_.basis.open_cost[s];
    }
    if (trench != l_.trench_cost) say("trench {} is not {}", l_.trench_cost.cents, trench.cents);
    if (l_.trench_bound > l_.trench_cost) say("bound above cost");
    if (l_.forced_cost > l_.trench_bound) say("forced above bound");
    if (l_.forced_cost < drops) say("drops are forced");
    if (static_cast<int>(count(l_, StationKind::cabinet)) < l_.cabinets_at_least)
      say("fewer cabinets than possible");
  }

  const Estate& e_;
  const Layout& l_;
  std::set<SpanId> used_;
  std::map<std::pair<StationId, NodeId>, SpanId> entered_;
  std::map<StationId, int> served_, dwellings_;
  std::vector<std::string> out_;
};

inline std::vector<std::string> broken(const Estate& e, const Layout& l) {
  return Held(e, l).broken();
}

}  // namespace plan
