#include "layout/drafting.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "layout/assemble.h"
#include "layout/places.h"
#include "layout/placing.h"
#include "layout/relief.h"
#include "layout/shortening.h"

namespace plan {
namespace {

constexpr int rounds = 4;

// A smaller fall is within what prices of a metre can tell.
Money worth_it(Money price) {
  return {price.cents / 1000 + 1};
}

bool is_cabinet(const Layout& layout, StationId s) {
  return s.valid() && layout.stations[s].kind == StationKind::cabinet;
}

Money price_of(const LayoutInput& in, const Layout& layout) {
  Money price;
  Length feeder, microduct;
  for (LinkId l : layout.links.ids()) {
    const bool feeds = is_cabinet(layout, layout.links[l].to);
    if (feeds) price += in.basis.cabinet_cost;
    for (SpanId s : layout.routes[l]) (feeds ? feeder : microduct) += in.network.spans[s].length;
  }
  for (SpanId s : layout.used.ids())
    if (layout.used[s]) price += in.basis.open_cost[s];
  return price + in.basis.feeder_metre.times_metres(feeder) +
         microduct_metre(in.basis).times_metres(microduct);
}

std::vector<NodeId> cabinets_of(const Layout& layout) {
  std::vector<NodeId> nodes;
  for (const Station& s : layout.stations)
    if (s.kind == StationKind::cabinet) nodes.push_back(s.node);
  return nodes;
}

int64_t longest_feeder(const LayoutDraft& draft) {
  int64_t longest = 0;
  for (NodeId n : cabinets_of(draft.layout)) longest = std::max(longest, draft.forest.depth[n]);
  return longest;
}

size_t cabinets_beyond(const LayoutDraft& draft, int64_t limit) {
  size_t beyond = 0;
  for (NodeId n : cabinets_of(draft.layout)) beyond += draft.forest.depth[n] > limit;
  return beyond;
}

class Drafting {
 public:
  Drafting(const LayoutInput& in, const StagePlan& stages, const Table<SpanId, uint8_t>& open)
      : in_(in),
        stages_(stages),
        graph_(open_graph(in.network, open)),
        shortest_(shortest_ways(in.network, graph_)),
        draft_(drafted(trench_forest(in.network, in.basis, open))) {}

  LayoutDraft run() {
    int64_t limit = to_whole_millimetres(in_.basis.longest_feeder);
    if (limit <= 0) limit = INT64_MAX;
    if (longest_feeder(draft_) > limit) hold(limit);
    tighten(limit);
    if (!in_.asks.crowded.empty()) leave_crowded();
    return std::move(draft_);
  }

 private:
  LayoutDraft drafted(TrenchForest forest) const {
    LayoutDraft d;
    d.layout = assemble(in_, forest, stages_, draft_serving(in_, forest, stages_));
    d.price = price_of(in_, d.layout);
    d.forest = std::move(forest);
    return d;
  }
  bool shorten_all(TrenchForest& forest, std::vector<NodeId> ends, int64_t limit) const {
    return shorten(forest, {in_.network, in_.basis, graph_, shortest_}, std::move(ends), limit);
  }
  // Every place where a cabinet may stand within the limit; nothing where none moves.
  std::optional<LayoutDraft> all_within(int64_t limit) const {
    TrenchForest forest = draft_.forest;
    const Table<NodeId, uint8_t> allowed = cabinet_nodes(forest, in_.network, in_.basis);
    std::vector<NodeId> ends;
    for (NodeId n : forest.order)
      if (allowed[n]) ends.push_back(n);
    if (!shorten_all(forest, std::move(ends), limit)) return {};
    return drafted(std::move(forest));
  }
  // Only the cabinets beyond the limit, again after each time that they have moved.
  LayoutDraft cabinets_within(int64_t limit) const {
    LayoutDraft draft = draft_;
    for (int round = 0; round < rounds; ++round) {
      if (!shorten_all(draft.forest, cabinets_of(draft.layout), limit)) break;
      draft = drafted(std::move(draft.forest));
    }
    return draft;
  }

  // All places come first: where that costs no more than no limit at all, nothing can move beyond it again.
  void hold(int64_t limit) {
    std::optional<LayoutDraft> all = all_within(limit);
    if (!all) return;
    if (all->price > draft_.price) {
      LayoutDraft some = cabinets_within(limit);
      const auto rank = [&](const LayoutDraft& d) { return std::pair(cabinets_beyond(d, limit), d.price); };
      if (rank(some) < rank(*all)) all = std::move(some);
    }
    draft_ = std::move(*all);
  }

  void tighten(int64_t limit) {
    const size_t beyond = cabinets_beyond(draft_, limit);
    for (int64_t target = std::min(limit, longest_feeder(draft_)) / 4 * 3;; target = target / 4 * 3) {
      std::optional<LayoutDraft> other = all_within(target);
      if (!other || other->price + worth_it(draft_.price) > draft_.price) return;
      if (cabinets_beyond(*other, limit) > beyond) return;
      draft_ = std::move(*other);
    }
  }

  void leave_crowded() {
    TrenchForest forest = draft_.forest;
    const ShorteningGround ground{in_.network, in_.basis, graph_, shortest_};
    if (relieve(forest, ground, cabinets_of(draft_.layout), in_.asks.crowded))
      draft_ = drafted(std::move(forest));
  }

  const LayoutInput& in_;
  const StagePlan& stages_;
  StreetGraph graph_;
  Table<NodeId, int64_t> shortest_;
  LayoutDraft draft_;
};

}  // namespace

LayoutDraft best_draft(const LayoutInput& input, const StagePlan& stages,
                       const Table<SpanId, uint8_t>& open) {
  const Asks unasked{{}, input.asks.not_through, input.asks.crowded};
  const LayoutInput in{input.network, input.basis, input.rules, unasked};
  return Drafting(in, stages, open).run();
}

}  // namespace plan
