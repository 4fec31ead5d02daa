#include "ducts/route_tree.h"

#include <algorithm>
#include <unordered_map>

namespace plan {
namespace {

struct Sprout {
  uint32_t parent;
  SpanId span;
  NodeId node;
};

// All beginnings of routes in order of discovery, and for each link the one that is its whole route.
struct Sprouts {
  std::vector<Sprout> all;
  std::vector<uint32_t> ends;
};

Sprouts sprout(const Network& network, NodeId station, std::span<const RoutedLink> links) {
  Sprouts s;
  s.all.push_back({0, SpanId(), station});
  std::unordered_map<uint64_t, uint32_t> known;  // looked up, never iterated
  for (const RoutedLink& l : links) {
    uint32_t at = 0;
    for (SpanId span : l.route) {
      const uint64_t key = (uint64_t{at} << 32) | span.value;
      const auto [where, fresh] = known.try_emplace(key, static_cast<uint32_t>(s.all.size()));
      if (fresh) s.all.push_back({at, span, far_end(network, span, s.all[at].node)});
      at = where->second;
    }
    s.ends.push_back(at);
  }
  return s;
}

// Children of each sprout as one list, by parent, then by span.
struct Children {
  std::vector<uint32_t> list, begin;
};
Children children_of(const std::vector<Sprout>& all) {
  Children c;
  for (uint32_t i = 1; i < all.size(); ++i) c.list.push_back(i);
  std::sort(c.list.begin(), c.list.end(), [&](uint32_t a, uint32_t b) {
    return all[a].parent != all[b].parent ? all[a].parent < all[b].parent : all[a].span < all[b].span;
  });
  c.begin.assign(all.size() + 1, 0);
  for (uint32_t i : c.list) ++c.begin[all[i].parent + 1];
  for (size_t i = 1; i < c.begin.size(); ++i) c.begin[i] += c.begin[i - 1];
  return c;
}

// Branches in preorder; returns the branch of each sprout.
std::vector<uint32_t> grow(const std::vector<Sprout>& all, std::vector<RouteBranch>& branches) {
  const Children children = children_of(all);
  std::vector<uint32_t> branch_of(all.size(), 0), stack{0};
  while (!stack.empty()) {
    const uint32_t s = stack.back();
    stack.pop_back();
    branch_of[s] = static_cast<uint32_t>(branches.size());
    RouteBranch b;
    b.parent = branch_of[all[s].parent];
    b.span = all[s].span;
    b.node = all[s].node;
    branches.push_back(b);
    for (uint32_t i = children.begin[s + 1]; i > children.begin[s]; --i)
      stack.push_back(children.list[i - 1]);
  }
  for (RouteBranch& b : branches) b.past = 1;
  for (size_t i = branches.size(); i-- > 1;) branches[branches[i].parent].past += branches[i].past;
  for (size_t i = 0; i < branches.size(); ++i) branches[i].past += static_cast<uint32_t>(i);
  return branch_of;
}

}  // namespace

NodeId far_end(const Network& network, SpanId span, NodeId at) {
  const Span& s = network.spans[span];
  PLAN_CHECK(at == s.from || at == s.to);
  return at == s.from ? s.to : s.from;
}

RouteTree make_route_tree(const Network& network, NodeId station, std::span<const RoutedLink> links) {
  const Sprouts sprouts = sprout(network, station, links);
  RouteTree tree;
  const std::vector<uint32_t> branch_of = grow(sprouts.all, tree.branches);
  std::vector<uint32_t> next(tree.branches.size() + 1, 0);
  for (uint32_t end : sprouts.ends) ++next[branch_of[end] + 1];
  for (size_t i = 1; i < next.size(); ++i) next[i] += next[i - 1];
  for (size_t i = 0; i < tree.branches.size(); ++i) {
    RouteBranch& b = tree.branches[i];
    b.first = next[i];
    b.own = next[i + 1];
    b.last = next[b.past];
  }
  tree.links.resize(links.size());
  for (size_t i = 0; i < links.size(); ++i) tree.links[next[branch_of[sprouts.ends[i]]]++] = links[i].link;
  return tree;
}

}  // namespace plan
