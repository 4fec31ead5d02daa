#include "report/names.h"

#include <fmt/core.h>

#include <array>

#include "base/text.h"

namespace plan {
namespace {

template <class E, size_t N>
std::string_view of(const std::array<std::string_view, N>& words, E e) {
  return words[static_cast<size_t>(e)];
}

void replace(std::string& text, std::string_view what, const std::string& with) {
  if (const size_t at = text.find(what); at != std::string::npos) text.replace(at, what.size(), with);
}

}  // namespace

std::string_view word(Connect c) {
  return of(std::array<std::string_view, 3>{"at build", "on order", "never"}, c);
}
std::string_view word(DropLaid d) {
  return of(std::array<std::string_view, 3>{"to door", "to boundary", "none"}, d);
}
std::string_view word(Confidence c) {
  return of(std::array<std::string_view, 3>{"assumed", "mapped", "surveyed"}, c);
}
std::string_view word(SpanKind k) {
  return of(std::array<std::string_view, 4>{"street", "drop", "link", "existing duct"}, k);
}
std::string_view word(StationKind k) {
  return of(std::array<std::string_view, 4>{"headend", "cabinet", "branch point", "building"}, k);
}
std::string_view word(DuctRole r) {
  return of(std::array<std::string_view, 3>{"feeder", "distribution", "drop"}, r);
}
std::string_view word(SectionState s) {
  return of(std::array<std::string_view, 4>{"used", "reserved", "spare", "dead"}, s);
}
std::string_view word(JointKind k) {
  return of(std::array<std::string_view, 4>{"straight", "reducing", "end stop", "block connector"}, k);
}
std::string_view word(LightState s) {
  return of(std::array<std::string_view, 3>{"lit", "reserved", "unlit"}, s);
}

StationNames::StationNames(const Plan& plan) {
  std::array<int, 4> counts{};
  for (const StationId s : plan.layout().stations.ids()) {
    const Station& station = plan.layout().stations[s];
    if (station.kind == StationKind::headend)
      names_.add(plan.scenario.demand->headends[station.headend].name);
    else
      names_.add(fmt::format("{} {}", word(station.kind), ++counts[static_cast<size_t>(station.kind)]));
  }
}

std::string subject_name(const Plan& plan, const StationNames& stations, const Subject& s) {
  const Demand& demand = *plan.scenario.demand;
  const auto premises_name = [&](PremisesId p) { return "premises " + demand.premises[p].name; };
  switch (s.kind) {
    case SubjectKind::none:
      return "";
    case SubjectKind::premises:
      return premises_name(PremisesId(s.id));
    case SubjectKind::route:
      return "route " + demand.routes[RouteId(s.id)].name;
    case SubjectKind::headend:
      return "headend " + demand.headends[HeadendId(s.id)].name;
    case SubjectKind::site:
      return "site " + demand.sites[SiteId(s.id)].name;
    case SubjectKind::surface:
      return "surface " + demand.surfaces[SurfaceId(s.id)];
    case SubjectKind::node:
      return fmt::format("node {}", s.id);
    case SubjectKind::span: {
      const RouteId route = plan.network->spans[SpanId(s.id)].route;
      return route.valid() ? fmt::format("span {} ({})", s.id, demand.routes[route].name)
                           : fmt::format("span {}", s.id);
    }
    case SubjectKind::station:
      return stations[StationId(s.id)];
    case SubjectKind::link: {
      const Link& link = plan.layout().links[LinkId(s.id)];
      return fmt::format("link {} to {}", s.id,
                         link.premises.valid() ? premises_name(link.premises) : stations[link.to]);
    }
    case SubjectKind::run:
      return fmt::format("run {}", s.id);
    case SubjectKind::section:
      return fmt::format("section {}", s.id);
    case SubjectKind::dwelling: {
      const Dwelling& d = plan.fibre().dwellings[DwellingId(s.id)];
      return fmt::format("dwelling {} of {}", d.number, premises_name(d.premises));
    }
    case SubjectKind::splitter:
      return fmt::format("splitter {}", s.id);
    case SubjectKind::pon:
      return fmt::format("PON {}", s.id);
    case SubjectKind::task:
      return fmt::format("task {}", s.id);
    case SubjectKind::item:
      return s.id < plan.takeoff->items.size() ? plan.takeoff->items[ItemId(s.id)].name
                                               : fmt::format("item {}", s.id);
  }
  return "";
}

NodeId subject_node(const Plan& plan, const Subject& s) {
  const Network& network = *plan.network;
  const auto link_end = [&](LinkId l) {
    const Link& link = plan.layout().links[l];
    return link.premises.valid() ? network.premises_nodes[link.premises]
                                 : plan.layout().stations[link.to].node;
  };
  switch (s.kind) {
    case SubjectKind::premises:
      return network.premises_nodes[PremisesId(s.id)];
    case SubjectKind::headend:
      return network.headend_nodes[HeadendId(s.id)];
    case SubjectKind::site:
      return network.site_nodes[SiteId(s.id)];
    case SubjectKind::node:
      return NodeId(s.id);
    case SubjectKind::span:
      return network.spans[SpanId(s.id)].from;
    case SubjectKind::station:
      return plan.layout().stations[StationId(s.id)].node;
    case SubjectKind::link:
      return link_end(LinkId(s.id));
    case SubjectKind::run:
      return plan.ducts().runs[RunId(s.id)].from;
    case SubjectKind::dwelling:
      return network.premises_nodes[plan.fibre().dwellings[DwellingId(s.id)].premises];
    default:
      return NodeId();
  }
}

std::string finding_text(const Finding& f) {
  const RuleText& rule = rule_text(f.rule);
  std::string text(rule.sentence);
  replace(text, "{actual}", fixed(f.actual, rule.decimals));
  replace(text, "{limit}", fixed(f.limit, rule.decimals));
  return text;
}

}  // namespace plan
