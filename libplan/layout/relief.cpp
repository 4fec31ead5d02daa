#include "layout/relief.h"

#include <algorithm>
#include <utility>

#include "graph/search.h"
#include "layout/rehanging.h"

namespace plan {
namespace {

constexpr size_t work_limit = 100'000'000;  // nodes looked at; what is crowded beyond it stays so

class Relief {
 public:
  Relief(TrenchForest& forest, const ShorteningGround& ground, const std::vector<NodeId>& cabinets,
         std::span<const SpanId> crowded)
      : forest_(forest),
        ground_(ground),
        cabinets_(cabinets),
        crowded_(crowded),
        limit_(ground.basis.longest_feeder > Length{} ? to_whole_millimetres(ground.basis.longest_feeder)
                                                      : INT64_MAX / 2),
        rehanging_(forest, ground.network),
        search_(ground.graph),
        length_(ground.network.at.size()),
        below_(ground.network.at.size()),
        lift_(ground.network.at.size(), no_lift) {}

  bool run() {
    const Table<NodeId, uint32_t> feeders = count_feeders();
    std::vector<size_t> wanted;
    for (SpanId s : crowded_) wanted.push_back(lower_end(s).valid() ? feeders[lower_end(s)] : 0);
    bool any = false;
    for (size_t i = 0; i < crowded_.size();) {
      size_t left = wanted[i];
      const SpanId s = crowded_[i];
      for (; i < crowded_.size() && crowded_[i] == s; ++i) left = left * 3 / 4;
      while (move_one(s, left)) any = true;
    }
    return any;
  }

 private:
  struct Candidate {
    Chord chord;
    int64_t price = INT64_MAX;
  };

  int64_t length(SpanId s) const { return to_whole_millimetres(ground_.network.spans[s].length); }
  NodeId far_end(SpanId s, NodeId n) const {
    const Span& span = ground_.network.spans[s];
    return span.from == n ? span.to : span.from;
  }
  // The node that hangs on the span; invalid where it is no part of the forest.
  NodeId lower_end(SpanId s) const {
    const Span& span = ground_.network.spans[s];
    return forest_.parent_span[span.from] == s ? span.from
           : forest_.parent_span[span.to] == s ? span.to
                                               : NodeId();
  }
  // By node: cabinets at it or below.
  Table<NodeId, uint32_t> count_feeders() {
    Table<NodeId, uint32_t> feeders(forest_.parent.size(), 0);
    for (NodeId c : cabinets_)
      for (NodeId n = c; n.valid(); n = forest_.parent[n], ++work_) ++feeders[n];
    return feeders;
  }
  std::vector<NodeId> feeders_below(NodeId top) {
    std::vector<NodeId> below;
    if (!top.valid()) return below;
    for (NodeId c : cabinets_) {
      NodeId n = c;
      for (; n.valid() && n != top; n = forest_.parent[n]) ++work_;
      if (n == top) below.push_back(c);
    }
    return below;
  }
  // What hangs below any crowded span, each node once however crowded spans lie below each other.
  std::vector<NodeId> mark_below_crowded() {
    std::vector<NodeId> marked;
    for (SpanId c : crowded_) {
      const NodeId top = lower_end(c);
      if (!top.valid() || below_[top]) continue;
      rehanging_.list(top, marked, [this](NodeId n) { return std::exchange(below_[n], 1) == 0; });
    }
    work_ += marked.size();
    return marked;
  }
  int64_t price(SpanId s) const {
    const bool is_dug = lower_end(s).valid();
    return (is_dug ? 0 : ground_.basis.open_cost[s].cents) +
           ground_.basis.feeder_metre.times_metres(ground_.network.spans[s].length).cents;
  }

  bool move_one(SpanId s, size_t left) {
    if (work_ >= work_limit) return false;
    const std::vector<NodeId> below = feeders_below(lower_end(s));
    if (below.size() <= left) return false;
    const std::vector<NodeId> marked = mark_below_crowded();
    Candidate best;
    for (NodeId c : below)
      if (work_ < work_limit) try_from(c, below, best);
    for (NodeId n : marked) below_[n] = 0;
    if (best.chord.spans.empty()) return false;
    rehanging_.hang(best.chord);
    return true;
  }

  void try_from(NodeId cabinet, const std::vector<NodeId>& below, Candidate& best) {
    NodeId here;
    const auto cost = [&](SpanId s) {
      if (is_crowded(s)) return int64_t{-1};
      return length_[here] + length(s) + ground_.shortest[far_end(s, here)] > limit_ ? -1 : price(s);
    };
    const auto reaches = [&](NodeId n, int64_t) {
      here = n;
      const SpanId by = search_.by(n);
      length_[n] = by.valid() ? length_[search_.before(n)] + length(by) : 0;
      return forest_.holds(n) && !below_[n] && forest_.depth[n] + length_[n] <= limit_;
    };
    const NodeId at = search_.from(cabinet, cost, reaches);
    work_ += search_.settled().size();
    if (!at.valid()) return;
    const int64_t now =
        ground_.basis.feeder_metre.times_metres(whole_millimetres(forest_.depth[cabinet])).cents;
    const int64_t then = ground_.basis.feeder_metre.times_metres(whole_millimetres(forest_.depth[at])).cents;
    Candidate found{{{cabinet}, search_.path(at)}, search_.cost(at) + then - now};
    if (found.price >= best.price) return;
    for (SpanId s : found.chord.spans) found.chord.nodes.push_back(far_end(s, found.chord.nodes.back()));
    if (keeps_limit(found.chord, below, forest_.depth[at] + length_[at])) best = std::move(found);
  }
  bool is_crowded(SpanId s) const { return std::binary_search(crowded_.begin(), crowded_.end(), s); }

  // Whether all cabinets that would move with the chord stay within the limit; `depth` is that of its start.
  bool keeps_limit(const Chord& chord, const std::vector<NodeId>& below, int64_t depth) {
    const auto set = [&](bool on) {
      for (size_t i = 0; i + 1 < chord.nodes.size(); ++i) {
        const NodeId n = chord.nodes[i];
        lift_[n] = on ? depth - length_[n] - forest_.depth[n] : no_lift;
      }
    };
    set(true);
    const bool kept = std::all_of(below.begin(), below.end(), [&](NodeId c) {
      NodeId n = c;
      while (n.valid() && lift_[n] == no_lift) n = forest_.parent[n];
      return !n.valid() || forest_.depth[c] + lift_[n] <= limit_;
    });
    set(false);
    return kept;
  }

  static constexpr int64_t no_lift = INT64_MIN;
  TrenchForest& forest_;
  const ShorteningGround& ground_;
  const std::vector<NodeId>& cabinets_;
  std::span<const SpanId> crowded_;
  int64_t limit_;
  Rehanging rehanging_;
  Search search_;
  Table<NodeId, int64_t> length_;  // from the cabinet at hand, of settled nodes
  Table<NodeId, uint8_t> below_;   // below any crowded span
  Table<NodeId, int64_t> lift_;    // what nodes of a chord would gain in depth
  size_t work_ = 0;
};

}  // namespace

bool relieve(TrenchForest& forest, const ShorteningGround& ground, const std::vector<NodeId>& cabinets,
             std::span<const SpanId> crowded) {
  const bool any = Relief(forest, ground, cabinets, crowded).run();
  if (any) tidy(forest, ground.network, ground.basis);
  return any;
}

}  // namespace plan
