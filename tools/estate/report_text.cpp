// estate-report.txt: what a designer must know before planning an estate that came from a map.
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <string_view>

#include "base/text.h"
#include "estate/folder.h"
#include "estate/streets.h"

namespace withy {
namespace {

using plan::counted;

constexpr size_t most_ids = 10;
constexpr size_t most_components = 20;

std::string km(int64_t mm) {
  return plan::fixed(static_cast<double>(mm) / 1e6, 3);
}
std::string share(int64_t part, int64_t whole) {
  return whole == 0 ? "0 %"
                    : plan::fixed(100.0 * static_cast<double>(part) / static_cast<double>(whole), 1) + " %";
}

std::string_view class_word(StreetClass c) {
  constexpr std::string_view words[] = {
      "trunk",         "primary",    "secondary", "tertiary", "unclassified", "residential",
      "living street", "pedestrian", "service",   "road",     "footway",      "path",
      "cycleway",      "track",      "bridleway", "steps",    "unstated"};
  return words[static_cast<size_t>(c)];
}

int64_t length_of(const DraftRoute& r) {
  return plan::to_whole_millimetres(plan::polyline_length(r.line));
}

// Lengths and counts under a name.
struct Sum {
  int64_t count = 0, length = 0, assumed = 0;
};
using Sums = std::map<std::string, Sum, std::less<>>;

class Report {
 public:
  Report(const DraftedEstate& estate, const EstateBrief& brief)
      : map_(estate.map), draft_(estate.draft), components_(estate.components), brief_(brief) {}

  std::string text() {
    head();
    read();
    remarks();
    streets();
    premises();
    components();
    crossings_and_ducts();
    limits();
    return std::move(out_);
  }

 private:
  void add(std::string_view line) { out_ += line, out_ += '\n'; }
  void title(std::string_view what) { out_ += '\n', add(what); }

  void head() {
    add(fmt::format("Estate {}: {} premises, {}, {} proposed, in metres of {}", brief_.name,
                    draft_.premises.size(), counted(draft_.routes.size(), "route"),
                    counted(draft_.headends.size(), "headend"),
                    draft_.plane.empty() ? "the source's own plane" : draft_.plane));
  }

  void read() {
    title("Read");
    for (const MapSource& s : map_.sources) {
      std::string counts;
      const auto count = [&counts](uint64_t n, std::string_view what) {
        if (n > 0) counts += fmt::format("{}{} {}", counts.empty() ? "" : ", ", n, what);
      };
      count(s.nodes, "nodes"), count(s.ways, "ways"), count(s.relations, "relations");
      count(s.features, "features");
      add(fmt::format("  {}: {}", s.path, counts.empty() ? "nothing" : counts));
      if (!s.licence.empty()) add(fmt::format("    licence as stated: {}", s.licence));
    }
    add(fmt::format("  of these {} streets, {} buildings, {} addresses, {} plots, {} barriers, {} ducts",
                    map_.streets.size(), map_.buildings.size(), map_.addresses.size(), map_.plots.size(),
                    map_.barriers.size(), map_.ducts.size()));
  }

  // By kind, then phrase: how many, and the first ids in the order they were met.
  void remarks() {
    struct Told {
      size_t count = 0;
      std::string ids;
    };
    std::map<std::pair<RemarkKind, std::string_view>, Told> told;
    for (const auto* list : {&map_.remarks, &draft_.remarks})
      for (const MapRemark& r : *list) {
        Told& t = told[{r.kind, r.what}];
        if (++t.count <= most_ids) t.ids += (t.ids.empty() ? "" : ", ") + id_text(map_, r.id);
        if (t.count == most_ids + 1) t.ids += ", ...";
      }
    constexpr std::string_view titles[] = {"Repaired", "Left out", "Doubtful"};
    for (const RemarkKind kind : {RemarkKind::repaired, RemarkKind::left_out, RemarkKind::doubtful}) {
      title(titles[static_cast<size_t>(kind)]);
      bool any = false;
      for (const auto& [key, t] : told)
        if (key.first == kind) add(fmt::format("  {:>8}  {}: {}", t.count, key.second, t.ids)), any = true;
      if (!any) add("         0");
    }
    add("  (all of them, with their places and details: estate-remarks.geojson)");
  }

  void table(std::string_view what, const Sums& sums) {
    add(fmt::format("  {:<28} {:>9} {:>12} {:>14}", what, "routes", "km", "assumed km"));
    for (const auto& [name, s] : sums)
      add(fmt::format("  {:<28} {:>9} {:>12} {:>14}", name, s.count, km(s.length), km(s.assumed)));
  }

  void streets() {
    title("Streets");
    Sums classes, surfaces;
    Sum all, restricted, forbidden, unnamed;
    for (const DraftRoute& r : draft_.routes) {
      if (r.duct) continue;
      const int64_t length = length_of(r), assumed = r.surface_known == Known::assumed ? length : 0;
      const auto count = [&](Sum& s) { ++s.count, s.length += length, s.assumed += assumed; };
      count(all), count(classes[std::string(class_word(r.street_class))]);
      count(surfaces[r.surface.empty() ? "none" : r.surface]);
      if (r.restricted) count(restricted);
      if (!r.forbidden.empty()) count(forbidden);
      if (r.street.empty()) count(unnamed);
    }
    table("class", classes);
    table("surface", surfaces);
    add(fmt::format("  in all {} km, {} of them ({} km) with a surface that is assumed from the class",
                    km(all.length), share(all.assumed, all.length), km(all.assumed)));
    const StreetCounts graph = street_counts(draft_.routes);
    add(fmt::format("  street graph: {} nodes, {} edges, {} loops, {} parallel edges, {} bridges, {} tunnels",
                    graph.nodes, graph.edges, graph.loops, graph.parallel, graph.bridges, graph.tunnels));
    const auto heights = std::count_if(draft_.routes.begin(), draft_.routes.end(),
                                       [](const DraftRoute& r) { return !r.heights.empty(); });
    add(fmt::format("  {} with heights", counted(static_cast<uint64_t>(heights), "route")));
    add(fmt::format("  {} km on private or restricted ways, {} km forbidden, {} km without a name",
                    km(restricted.length), km(forbidden.length), km(unnamed.length)));
  }

  std::string percentile(const std::vector<int64_t>& sorted, int percent) const {
    if (sorted.empty()) return "0.0";
    const size_t rank = (sorted.size() * static_cast<size_t>(percent) + 99) / 100;
    return plan::fixed(static_cast<double>(sorted[std::max<size_t>(rank, 1) - 1]) / 1000, 1);
  }

  void premises() {
    title("Premises");
    std::map<std::string_view, std::pair<int64_t, int64_t>> rules;
    int64_t dwellings = 0, assumed = 0, on_restricted = 0, far = 0, with_point = 0;
    std::vector<int64_t> drops;
    for (size_t i = 0; i < draft_.premises.size(); ++i) {
      const DraftPremises& p = draft_.premises[i];
      dwellings += p.dwellings;
      ++rules[p.dwellings_rule].first, rules[p.dwellings_rule].second += p.dwellings;
      if (p.dwellings_known == Known::assumed) ++assumed;
      if (p.building_point) ++with_point;
      const uint32_t route = components_.route_of[i];
      if (route == UINT32_MAX) {
        ++far;
        continue;
      }
      drops.push_back(components_.drop[i]);
      if (draft_.routes[route].restricted) ++on_restricted;
    }
    std::sort(drops.begin(), drops.end());
    add(fmt::format("  {} premises, {} dwellings; of {} premises the dwellings are assumed",
                    draft_.premises.size(), dwellings, assumed));
    for (const auto& [rule, n] : rules)
      add(fmt::format("  {:>8} premises, {:>8} dwellings: {}", n.first, n.second,
                      rule.empty() ? "no rule stated" : rule));
    add(fmt::format("  with a building point: {} premises", with_point));
    add(fmt::format(
        "  drops, straight from the entry to the street: half of them at most {} m, 95 % at most {} m, "
        "the longest {} m",
        percentile(drops, 50), percentile(drops, 95), percentile(drops, 100)));
    add(fmt::format("  on private or restricted ways: {} premises, each needs its owner's consent",
                    on_restricted));
    add(fmt::format("  without a street within {1} m: {0} premises, the plan leaves them out and says so",
                    far, farthest_drop / 1000));
  }

  void components() {
    title("What hangs together");
    add(fmt::format("  {}; a component of at least {} dwellings gets a headend",
                    counted(components_.all.size(), "component"), brief_.headends.least_dwellings));
    for (const DraftHeadend& h : draft_.headends)
      add(fmt::format("  {} at {} {} for {} dwellings", h.name, metres_of(h.at.x), metres_of(h.at.y),
                      h.dwellings));
    int64_t outside = 0, outside_dwellings = 0;
    std::vector<uint32_t> order;
    for (uint32_t c = 0; c < components_.all.size(); ++c) {
      const DraftComponent& component = components_.all[c];
      if (component.headend) {
        add(fmt::format("  with headend: {} km, {} premises, {} dwellings", km(component.length),
                        component.premises, component.dwellings));
        continue;
      }
      outside += component.premises, outside_dwellings += component.dwellings;
      order.push_back(c);
    }
    add(fmt::format(
        "  in components without a headend: {} premises ({} dwellings), the plan reports them as not "
        "reached",
        outside, outside_dwellings));
    std::stable_sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) {
      return components_.all[a].premises > components_.all[b].premises;
    });
    list_unreached(order);
  }

  void list_unreached(const std::vector<uint32_t>& order) {
    DraftComponent rest;
    for (size_t i = 0; i < order.size(); ++i) {
      const DraftComponent& c = components_.all[order[i]];
      if (i >= most_components) {
        rest.length += c.length, rest.premises += c.premises, rest.dwellings += c.dwellings;
        continue;
      }
      const std::string link = c.gap < 0 ? std::string("no component to join")
                                         : fmt::format("joined by {} m straight, near {} {}",
                                                       plan::fixed(static_cast<double>(c.gap) / 1000, 1),
                                                       metres_of(c.gap_at.x), metres_of(c.gap_at.y));
      add(fmt::format("  {:>8} premises, {:>9} km from route '{}': {}", c.premises, km(c.length),
                      plan::shown(draft_.routes[c.first_route].name), link));
    }
    if (order.size() > most_components)
      add(fmt::format("  {:>8} premises, {:>9} km in {} smaller ones", rest.premises, km(rest.length),
                      order.size() - most_components));
  }

  void crossings_and_ducts() {
    Sums crossings, ducts;
    constexpr std::string_view states[] = {"unproven", "proven", "blocked"};
    for (const DraftRoute& r : draft_.routes) {
      const auto count = [&](Sum& s) { ++s.count, s.length += length_of(r); };
      if (!r.crossing.empty()) count(crossings[r.crossing + (r.forbidden.empty() ? "" : ", forbidden")]);
      if (r.duct) count(ducts[std::string(states[static_cast<size_t>(r.duct->state)])]);
    }
    title("Crossings");
    for (const auto& [name, s] : crossings)
      add(fmt::format("  {:>8} of {}, {} km", s.count, name, km(s.length)));
    if (crossings.empty()) add("         0");
    title("Existing ducts");
    for (const auto& [name, s] : ducts) add(fmt::format("  {:>8} {}, {} km", s.count, name, km(s.length)));
    if (ducts.empty()) add("         0");
    if (ducts.contains("unproven")) add("  an unproven duct is no free capacity until it is rodded");
  }

  void limits() {
    title("Mind");
    add("  A map shows what somebody drew, not what lies in the ground. Before any work: walk the streets "
        "out");
    add("  (estate-walk-out.csv), search for buried services, ask owners and authorities, follow local "
        "codes.");
  }

  const Map& map_;
  const Draft& draft_;
  const Components& components_;
  const EstateBrief& brief_;
  std::string out_;
};

}  // namespace

std::string report_text(const DraftedEstate& estate, const EstateBrief& brief) {
  return Report(estate, brief).text();
}

}  // namespace withy
