#include "layout/layout.h"

#include <algorithm>
#include <utility>

#include "base/check.h"
#include "layout/assemble.h"
#include "layout/drafting.h"
#include "layout/serving.h"
#include "solve/steiner_solve.h"

namespace plan {
namespace {

constexpr size_t closely_bounded = 50'000;  // spans: below, the engine's own bound is worth its seconds

Length route_length(const Network& network, std::span<const SpanId> route) {
  Length sum;
  for (SpanId s : route) sum += network.spans[s].length;
  return sum;
}

// Duct path of a premises: from its cabinet, or from the headend where there is none.
Length duct_path(const LayoutInput& in, const Layout& layout, PremisesId p) {
  const LinkId link = layout.drops[p];
  Length sum = route_length(in.network, layout.routes[link]);
  const StationId from = layout.links[link].from;
  if (layout.stations[from].kind == StationKind::branch_point)
    sum += route_length(in.network, layout.routes[layout.feeds[from]]);
  return sum;
}

void find_premises(const LayoutInput& in, Layout& layout) {
  for (PremisesId p : layout.drops.ids()) {
    if (!in.basis.needs[p].planned) continue;
    if (!layout.drops[p].valid()) {
      layout.findings.push_back({.rule = Rule::premises_unserved,
                                 .at = subject(p),
                                 .mend = in.basis.sites_only ? Mend::another_site : Mend::larger_headend});
      continue;
    }
    const Length limit = whole_millimetres(reach_of(in, p)), path = duct_path(in, layout, p);
    if (path > limit)
      layout.findings.push_back({.rule = Rule::drop_duct_too_long,
                                 .at = subject(p),
                                 .by = subject(layout.links[layout.drops[p]].from),
                                 .actual = in_metres(path),
                                 .limit = in_metres(limit),
                                 .mend = in.basis.sites_only ? Mend::another_site : Mend::add_route});
  }
}

struct Outgoing {
  int64_t links = 0, dwellings = 0;
};

Table<StationId, Outgoing> outgoing(const LayoutInput& in, const StagePlan& stages, const Layout& layout) {
  Table<StationId, Outgoing> out(layout.stations.size());
  for (size_t i = layout.links.size(); i-- > 0;) {  // stations below come later: their dwellings are known
    const Link& l = layout.links[LinkId(i)];
    ++out[l.from].links;
    if (l.premises.valid())
      out[l.from].dwellings += dwellings_held(in, stages, l.premises);
    else if (layout.stations[l.to].kind == StationKind::branch_point)
      out[l.from].dwellings += whole_multiple(out[l.to].dwellings, stages.branch_point.lights);
  }
  return out;
}

void find_stations(const LayoutInput& in, const StagePlan& stages, Layout& layout) {
  const Table<StationId, Outgoing> out = outgoing(in, stages, layout);
  Table<SiteId, int> at_site(in.network.site_nodes.size());
  const auto exceeds = [&](Rule rule, StationId s, int64_t actual, int64_t limit, Mend mend) {
    if (actual > limit)
      layout.findings.push_back({.rule = rule,
                                 .at = subject(s),
                                 .actual = static_cast<double>(actual),
                                 .limit = static_cast<double>(limit),
                                 .mend = mend});
  };
  for (StationId s : layout.stations.ids()) {
    const Station& station = layout.stations[s];
    if (station.kind != StationKind::cabinet) continue;
    exceeds(Rule::cabinet_entries_exceeded, s, out[s].links, in.basis.cabinet.premises, Mend::larger_cabinet);
    exceeds(Rule::cabinet_fibres_exceeded, s, out[s].dwellings, in.basis.cabinet.dwellings,
            Mend::larger_cabinet);
    const Length feeder = route_length(in.network, layout.routes[layout.feeds[s]]);
    if (in.basis.longest_feeder > Length{} && feeder > in.basis.longest_feeder)
      layout.findings.push_back({.rule = Rule::feeder_duct_too_long,
                                 .at = subject(s),
                                 .actual = in_metres(feeder),
                                 .limit = in_metres(in.basis.longest_feeder),
                                 .mend = in.basis.sites_only ? Mend::another_site : Mend::add_route});
    if (in.basis.sites_only && ++at_site[station.site] > 1)
      layout.findings.push_back({.rule = Rule::no_allowed_site,
                                 .at = subject(s),
                                 .by = subject(station.site),
                                 .mend = Mend::another_site});
  }
}

// The bound is on the problem that the trench solves: every premises served, joined to any headend over
// open spans; so the trench of any layout that serves them costs at least as much.
void set_costs(const LayoutInput& in, const Table<SpanId, uint8_t>& open, Layout& layout) {
  std::vector<SteinerEdge> edges;
  edges.reserve(in.network.spans.size());
  for (SpanId s : in.network.spans.ids()) {
    const Span& span = in.network.spans[s];
    edges.push_back({span.from.value, span.to.value, open[s] ? in.basis.open_cost[s].cents : -1});
    if (layout.used[s]) layout.trench_cost += in.basis.open_cost[s];
  }
  std::vector<uint32_t> terminals, roots;
  for (PremisesId p : layout.drops.ids())
    if (layout.drops[p].valid()) terminals.push_back(in.network.premises_nodes[p].value);
  for (NodeId n : in.network.headend_nodes)
    if (n.valid()) roots.push_back(n.value);
  const SteinerGraph graph = steiner_graph(in.network.at.size(), edges);
  const SteinerBound bound = steiner_bound(graph, terminals, roots);
  layout.trench_bound = {bound.bound};
  if (edges.size() < closely_bounded)
    layout.trench_bound.cents =
        std::max(bound.bound, steiner_solve_forest(graph, terminals, roots, {}).bound);
  layout.forced_cost = {bound.forced};
  PLAN_CHECK(layout.trench_bound <= layout.trench_cost);
}

int64_t ceil_div(int64_t a, int64_t b) {
  return (a + b - 1) / b;
}

// Premises less the headends' entries, over the entries of a cabinet; behind branch points as many fewer
// as one of them may serve.
int cabinets_at_least(const LayoutInput& in, const StagePlan& stages, const Layout& layout) {
  const CabinetLimits& cabinet = in.basis.cabinet;
  if (cabinet.premises <= 0 || cabinet.dwellings <= 0) return 0;
  int64_t premises = 0, entries = 0;
  for (LinkId l : layout.drops) premises += l.valid();
  for (const HeadendLimits& h : in.basis.headends) entries += h.microduct_entries;
  if (stages.branch_point.count > 0)
    premises = ceil_div(premises, std::max(1, in.rules.branch_point_premises));
  return static_cast<int>(ceil_div(std::max<int64_t>(0, premises - entries), cabinet.premises));
}

}  // namespace

Layout make_layout(const Network& network, const Basis& basis, const LayoutRules& rules, const Asks& asks,
                   const Run& run) {
  run.tell("layout", 0);
  const LayoutInput input{network, basis, rules, asks};
  const StagePlan stages = stage_plan(rules);
  const Table<SpanId, uint8_t> open = open_spans(network, basis, asks);
  LayoutDraft draft = best_draft(input, stages, open);
  run.tell("layout", 0.6);
  Layout layout = std::move(draft.layout);
  if (!asks.longest.empty())
    layout = assemble(input, draft.forest, stages, draft_serving(input, draft.forest, stages));
  run.tell("layout", 0.7);
  set_costs(input, open, layout);
  layout.cabinets_at_least = cabinets_at_least(input, stages, layout);
  find_premises(input, layout);
  find_stations(input, stages, layout);
  run.tell("layout", 1);
  return layout;
}

}  // namespace plan
