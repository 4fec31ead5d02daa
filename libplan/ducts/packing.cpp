#include "ducts/packing.h"

#include <algorithm>

namespace plan {
namespace {

// A run on its way outwards, carrying the links [lo, hi) of the tree's order.
struct Carrier {
  RunId run;
  uint32_t base = 0;  // the link in position 1
  uint32_t lo = 0, hi = 0;
  Length length;
};

// Links of one carrier that go on into one child branch.
struct Part {
  uint32_t child = 0, lo = 0, hi = 0;
  uint32_t size() const { return hi - lo; }
};

class Packer {
 public:
  Packer(const PackInput& input, const RouteTree& tree, Drafts& drafts)
      : in_(input), tree_(tree), drafts_(drafts), arrivals_(tree.branches.size()) {}

  void visit(uint32_t at) {
    std::vector<Carrier> arrived = std::move(arrivals_[at]);
    std::sort(arrived.begin(), arrived.end(), [](const Carrier& a, const Carrier& b) { return a.lo < b.lo; });
    turned_.clear();
    uint32_t child = at + 1;
    for (const Carrier& c : arrived) pass(c, at, child);
    const RouteBranch& b = tree_.branches[at];
    if (at == 0)
      for (uint32_t k = 1; k < b.past; k = tree_.branches[k].past)
        turned_.push_back({k, tree_.branches[k].first, tree_.branches[k].last});
    for (size_t i = 0; i < turned_.size();) {
      Part whole = turned_[i];
      for (++i; i < turned_.size() && turned_[i].child == whole.child && turned_[i].lo == whole.hi; ++i)
        whole.hi = turned_[i].hi;
      start_runs(whole);
    }
    for (uint32_t i = b.first; i < b.own; ++i) lay_drop(tree_.links[i], b.node);
  }

 private:
  // One carrier at a branch. `child` is the first child that it may enter, moved on for the next carrier.
  void pass(const Carrier& c, uint32_t at, uint32_t& child) {
    const RouteBranch& b = tree_.branches[at];
    for (uint32_t i = c.lo; i < std::min(c.hi, b.own); ++i) turn_out(c, i, b.node);
    parts_.clear();
    for (; child < b.past; child = tree_.branches[child].past) {
      const RouteBranch& k = tree_.branches[child];
      const Part part{child, std::max(c.lo, k.first), std::min(c.hi, k.last)};
      if (part.lo < part.hi) parts_.push_back(part);
      if (k.last >= c.hi) break;
    }
    const auto most = std::max_element(parts_.begin(), parts_.end(),
                                       [](const Part& x, const Part& y) { return x.size() < y.size(); });
    const bool goes_on = most != parts_.end() && go_on(c, *most, b.node);
    for (auto p = parts_.begin(); p != parts_.end(); ++p) {
      if (goes_on && p == most) continue;
      for (uint32_t i = p->lo; i < p->hi; ++i) turn_out(c, i, b.node);
      turned_.push_back(*p);
    }
    if (!goes_on) end_run(c, b.node);
  }

  // Carries on into the part's branch, cut where the drum ends; false if the run has to end here.
  bool go_on(const Carrier& c, const Part& part, NodeId node) {
    const BundleId bundle = drafts_.runs[c.run].run.bundle;
    const Bundle& laid = in_.in.catalogue.bundles[bundle];
    const SpanId span = tree_.branches[part.child].span;
    const LaidIn place = laid_in(in_.in.network, span);
    if (in_.shelf.allows(place) && !may_lie(laid, place)) return false;
    const int n = static_cast<int>(part.size());
    const bool smaller_does = in_.shelf.ways(in_.shelf.smallest(n, place)) < laid.ways;
    const bool some_left = part.size() < c.hi - c.lo;
    if (some_left && smaller_does && n < in_.in.rules.taper_below * laid.ways) return false;
    const Length length = c.length + in_.in.network.spans[span].length;
    if (length + most_tails(c.run) > laid.drum) {
      if (smaller_does) return false;
      cut(c, part, node);
      return true;
    }
    if (some_left) ++drafts_.runs[c.run].opened;
    drafts_.spans.emplace_back(c.run, span);
    arrivals_[part.child].push_back({c.run, c.base, part.lo, part.hi, length});
    return true;
  }

  // Drum metres that tails may take: both ends, and every node where it was opened, the next included.
  Length most_tails(RunId run) const {
    const DuctRules& rules = in_.in.rules;
    return 2 * std::max(rules.tail_at_cabinet, rules.tail_in_chamber) +
           (drafts_.runs[run].opened + 1) * rules.tail_in_chamber;
  }

  void cut(const Carrier& c, const Part& part, NodeId node) {
    for (uint32_t i = part.lo; i < part.hi; ++i) turn_out(c, i, node);
    end_run(c, node);
    RunDraft draft;
    draft.run = drafts_.runs[c.run].run;
    draft.run.from = node;
    draft.cut_from = c.run;
    draft.taken = drafts_.runs[c.run].taken;
    drafts_.runs[c.run].cut = true;
    begin(draft, c.base, part);
  }

  void start_runs(const Part& part) {
    const LaidIn place = laid_in(in_.in.network, tree_.branches[part.child].span);
    const uint32_t capacity = static_cast<uint32_t>(in_.shelf.capacity(place));
    for (uint32_t lo = part.lo; lo < part.hi; lo += std::min(capacity, part.hi - lo)) {
      const Part one{part.child, lo, lo + std::min(capacity, part.hi - lo)};
      RunDraft draft;
      draft.run.bundle = in_.shelf.smallest(static_cast<int>(one.size()), place);
      draft.run.role = in_.role;
      draft.run.station = in_.station;
      draft.run.from = tree_.branches[tree_.branches[part.child].parent].node;
      draft.taken = static_cast<int>(one.size());
      begin(draft, lo, one);
    }
  }

  // A new run into the part's branch; position 1 belongs to the link `base`.
  void begin(RunDraft draft, uint32_t base, const Part& part) {
    draft.first_slot = drafts_.slots.size();
    for (uint32_t i = base; i < base + static_cast<uint32_t>(draft.taken); ++i) {
      const bool live = i >= part.lo && i < part.hi;
      drafts_.slots.push_back({live ? tree_.links[i] : LinkId(), draft.run.from, Length()});
    }
    const SpanId span = tree_.branches[part.child].span;
    const RunId id = drafts_.runs.add(draft);
    drafts_.spans.emplace_back(id, span);
    arrivals_[part.child].push_back({id, base, part.lo, part.hi, in_.in.network.spans[span].length});
  }

  void turn_out(const Carrier& c, uint32_t link, NodeId node) {
    RunSlot& slot = drafts_.slots[drafts_.runs[c.run].first_slot + (link - c.base)];
    slot.end = node;
    slot.reach = c.length;
  }

  void end_run(const Carrier& c, NodeId node) {
    BundleRun& run = drafts_.runs[c.run].run;
    run.to = node;
    run.length = c.length;
    const Length drum = in_.in.catalogue.bundles[run.bundle].drum;
    if (run.length > drum)
      drafts_.findings.push_back({.rule = Rule::cut_longer_than_drum,
                                  .at = subject(c.run),
                                  .actual = in_metres(run.length),
                                  .limit = in_metres(drum),
                                  .mend = Mend::in_line_joint});
  }

  void lay_drop(LinkId link, NodeId node) {
    const LaidDrop& drop = in_.drops[link];
    if (drop.spans.empty() || !drop.laid) return;
    RunDraft draft;
    draft.run.bundle = in_.drop_shelf.single(laid_in(in_.in.network, drop.spans.front()));
    draft.run.role = DuctRole::drop;
    draft.run.station = in_.station;
    draft.run.from = node;
    draft.taken = 1;
    draft.first_slot = drafts_.slots.size();
    const RunId id = drafts_.runs.add(draft);
    NodeId end = node;
    for (SpanId s : drop.spans) {
      drafts_.spans.emplace_back(id, s);
      end = far_end(in_.in.network, s, end);
    }
    drafts_.slots.push_back({link, end, drop.length});
    end_run({id, 0, 0, 0, drop.length}, end);
  }

  const PackInput& in_;
  const RouteTree& tree_;
  Drafts& drafts_;
  std::vector<std::vector<Carrier>> arrivals_;
  std::vector<Part> parts_, turned_;
};

}  // namespace

LaidIn laid_in(const Network& network, SpanId span) {
  return network.spans[span].kind == SpanKind::existing_duct ? LaidIn::existing_duct : LaidIn::ground;
}

void pack(const PackInput& input, const RouteTree& tree, Drafts& drafts) {
  Packer packer(input, tree, drafts);
  for (uint32_t at = 0; at < tree.branches.size(); ++at) packer.visit(at);
}

}  // namespace plan
