#include "ducts/ducts.h"

#include <algorithm>
#include <utility>

#include "ducts/checks.h"
#include "ducts/grouped.h"
#include "ducts/packing.h"
#include "ducts/sections.h"

namespace plan {
namespace {

bool to_premises(const Link& link) {
  return link.premises.valid();
}

// The last spans of a route that are drops, and how much of them is laid at build.
LaidDrop drop_of(const DuctInput& in, LinkId link) {
  const std::span<const SpanId> route = in.layout.routes[link];
  LaidDrop drop;
  if (!to_premises(in.layout.links[link])) return drop;
  size_t n = 0;
  while (n < route.size() && in.network.spans[route[route.size() - 1 - n]].kind == SpanKind::drop) ++n;
  drop.spans = route.last(n);
  for (SpanId s : drop.spans) drop.length += in.network.spans[s].length;
  const PremisesId p = in.layout.links[link].premises;
  const Premises& premises = in.demand.premises[p];
  if (!in.basis.needs[p].reserved) return drop;
  drop.laid = premises.laid != DropLaid::none;
  if (premises.laid == DropLaid::to_boundary && premises.boundary > Length())
    drop.length = std::min(drop.length, rounded_to_millimetres(premises.boundary));
  return drop;
}

class Builder {
 public:
  Builder(const DuctInput& in, Drafts& drafts)
      : in_(in),
        drafts_(drafts),
        distribution_(in.catalogue, in.rules.distribution_microduct, in.rules.spare_share),
        feeder_(in.catalogue, in.rules.feeder_microduct, in.rules.spare_share),
        drop_(in.catalogue, in.rules.drop_microduct, 0),
        drops_(in.layout.links.size()) {
    for (LinkId l : drops_.ids()) drops_[l] = drop_of(in, l);
  }

  // Links of one station; feeder and distribution never share a bundle.
  void station(StationId s, std::span<const LinkId> links) {
    std::vector<RoutedLink> feeders, premises;
    for (LinkId l : links) {
      const std::span<const SpanId> route = in_.layout.routes[l];
      const RoutedLink routed{l, route.first(route.size() - drops_[l].spans.size())};
      (to_premises(in_.layout.links[l]) ? premises : feeders).push_back(routed);
    }
    build({in_, s, DuctRole::feeder, feeder_, drop_, drops_}, feeders);
    build({in_, s, DuctRole::distribution, distribution_, drop_, drops_}, premises);
  }

  // Runs without room for their spare: one finding a bundle.
  void check_spare() {
    std::vector<uint8_t> told(in_.catalogue.bundles.size(), 0);
    for (RunId r : drafts_.runs.ids()) {
      const RunDraft& d = drafts_.runs[r];
      const int ways = in_.catalogue.bundles[d.run.bundle].ways;
      const int needed = ways_with_spare(d.taken, in_.rules.spare_share);
      if (d.run.role == DuctRole::drop || ways >= needed ||
          std::exchange(told[d.run.bundle.value], uint8_t{1}))
        continue;
      no_bundle_fits(subject(r), needed, ways);
    }
  }

 private:
  void build(const PackInput& input, const std::vector<RoutedLink>& links) {
    if (links.empty()) return;
    const bool drop_missing = input.role == DuctRole::distribution && drop_.empty();
    if (input.shelf.empty() || drop_missing) {
      const bool known = std::exchange(missing_[static_cast<size_t>(input.role)], true);
      if (!known) no_bundle_fits(subject(links.front().link), drop_missing ? 1 : 2, 0);
      return;
    }
    pack(input, make_route_tree(in_.network, in_.layout.stations[input.station].node, links), drafts_);
  }

  void no_bundle_fits(Subject at, int needed, int largest) {
    drafts_.findings.push_back({.rule = Rule::no_bundle_fits,
                                .at = at,
                                .actual = static_cast<double>(needed),
                                .limit = static_cast<double>(largest),
                                .mend = Mend::larger_bundle});
  }

  const DuctInput& in_;
  Drafts& drafts_;
  Shelf distribution_, feeder_, drop_;
  Table<LinkId, LaidDrop> drops_;
  bool missing_[2] = {false, false};  // by role, once told
};

Lists<StationId, LinkId> links_of_stations(const Layout& layout) {
  std::vector<std::pair<StationId, LinkId>> pairs;
  for (LinkId l : layout.links.ids()) pairs.emplace_back(layout.links[l].from, l);
  return grouped<StationId, LinkId>(layout.stations.size(), pairs);
}

}  // namespace

Ducts make_ducts(const DuctInput& input, const Run& run) {
  run.tell("ducts", 0);
  Drafts drafts;
  Builder builder(input, drafts);
  const Lists<StationId, LinkId> links = links_of_stations(input.layout);
  for (StationId s : links.ids()) builder.station(s, links[s]);
  builder.check_spare();
  run.tell("ducts", 0.5);

  Ducts ducts;
  ducts.findings = std::move(drafts.findings);
  write_runs(input, drafts, ducts);
  write_sections(input, drafts, ducts);
  write_joints(input, drafts, ducts);
  write_branch_points(input, ducts);
  check_room(input, ducts);
  check_bends(input, ducts);
  run.tell("ducts", 1);
  return ducts;
}

}  // namespace plan
