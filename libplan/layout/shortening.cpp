#include "layout/shortening.h"

#include <algorithm>

#include "graph/search.h"
#include "layout/rehanging.h"

namespace plan {
namespace {

constexpr int64_t no_price = INT64_MAX;
constexpr size_t work_limit = 300'000'000;  // nodes settled; then only the shortest path is tried

struct PricedChord {
  Chord chord;
  int64_t price = no_price;
};

class Shortening {
 public:
  Shortening(TrenchForest& forest, const ShorteningGround& ground)
      : forest_(forest),
        ground_(ground),
        rehanging_(forest, ground.network),
        search_(ground.graph),
        length_(ground.network.at.size()) {}

  bool shorten(NodeId end, int64_t limit) {
    if (forest_.depth[end] <= limit || ground_.shortest[end] > limit) return false;
    PricedChord best;
    for (UnitPrice metre : metres_) {
      if (work_ > work_limit) break;
      const auto weight = [&](SpanId s) { return opening(s) + laying(metre, s); };
      keep_cheaper(best, end, limit, weight);
    }
    keep_cheaper(best, end, limit, [&](SpanId s) { return length(s); });
    PLAN_CHECK(best.price < no_price);
    rehanging_.hang(best.chord);
    return true;
  }

  // Prices of a metre to try: of a feeder, then parts and multiples of what it costs to open one.
  void set_metres(UnitPrice opened) {
    metres_ = {ground_.basis.feeder_metre};
    for (int64_t eighths : {1, 2, 4, 8, 16, 32})
      metres_.push_back({ground_.basis.feeder_metre.ten_thousandths + opened.ten_thousandths * eighths / 8});
  }

 private:
  int64_t length(SpanId s) const { return to_whole_millimetres(ground_.network.spans[s].length); }
  bool is_dug(SpanId s) const {
    const Span& span = ground_.network.spans[s];
    return forest_.parent_span[span.from] == s || forest_.parent_span[span.to] == s;
  }
  int64_t opening(SpanId s) const { return is_dug(s) ? 0 : ground_.basis.open_cost[s].cents; }
  int64_t laying(UnitPrice metre, SpanId s) const {
    return metre.times_metres(ground_.network.spans[s].length).cents;
  }
  NodeId far_end(SpanId s, NodeId n) const {
    const Span& span = ground_.network.spans[s];
    return span.from == n ? span.to : span.from;
  }

  template <class Weight>
  void keep_cheaper(PricedChord& best, NodeId end, int64_t limit, const Weight& weight) {
    NodeId here;
    const auto cost = [&](SpanId s) {
      const int64_t shortest = ground_.shortest[far_end(s, here)];
      return length_[here] + length(s) + shortest > limit ? -1 : weight(s);
    };
    const auto reaches = [&](NodeId n, int64_t) {
      here = n;
      const SpanId by = search_.by(n);
      length_[n] = by.valid() ? length_[search_.before(n)] + length(by) : 0;
      return forest_.holds(n) && forest_.depth[n] + length_[n] <= limit;
    };
    const NodeId at = search_.from(end, cost, reaches);
    work_ += search_.settled().size();
    if (!at.valid()) return;
    PricedChord found{{{end}, search_.path(at)}, 0};
    std::vector<NodeId>& nodes = found.chord.nodes;
    for (SpanId s : found.chord.spans) {
      nodes.push_back(far_end(s, nodes.back()));
      found.price += opening(s);
    }
    const Length depth = whole_millimetres(forest_.depth[at] + length_[at]);
    found.price += ground_.basis.feeder_metre.times_metres(depth).cents;
    if (found.price < best.price) best = std::move(found);
  }

  TrenchForest& forest_;
  const ShorteningGround& ground_;
  Rehanging rehanging_;
  Search search_;
  Table<NodeId, int64_t> length_;  // from the end at hand, of settled nodes
  std::vector<UnitPrice> metres_;
  size_t work_ = 0;
};

// What a metre of the forest's trench costs to open on the whole.
UnitPrice opened_metre(const TrenchForest& forest, const ShorteningGround& ground) {
  double cents = 0, metres = 0;
  for (SpanId s : forest.parent_span) {
    if (!s.valid()) continue;
    cents += static_cast<double>(ground.basis.open_cost[s].cents);
    metres += in_metres(ground.network.spans[s].length);
  }
  return {metres > 0 ? static_cast<int64_t>(cents * 100 / metres) : 0};
}

}  // namespace

Table<NodeId, int64_t> shortest_ways(const Network& network, const StreetGraph& graph) {
  Table<SpanId, int64_t> length;
  length.reserve(network.spans.size());
  for (const Span& s : network.spans) length.add(to_whole_millimetres(s.length));
  std::vector<NodeId> headends;
  for (NodeId n : network.headend_nodes)
    if (n.valid()) headends.push_back(n);
  return shortest_paths(graph, length, headends).cost;
}

bool shorten(TrenchForest& forest, const ShorteningGround& ground, std::vector<NodeId> ends, int64_t limit) {
  std::sort(ends.begin(), ends.end(), [&](NodeId a, NodeId b) {
    return forest.depth[a] != forest.depth[b] ? forest.depth[a] > forest.depth[b] : a < b;
  });
  Shortening shortening(forest, ground);
  shortening.set_metres(opened_metre(forest, ground));
  bool any = false;
  for (NodeId end : ends) any |= shortening.shorten(end, limit);
  if (any) tidy(forest, ground.network, ground.basis);
  return any;
}

}  // namespace plan
