#include "layout/forest.h"

#include <algorithm>

#include "graph/search.h"
#include "solve/steiner.h"

namespace plan {
namespace {

int64_t span_cost(const Basis& basis, const Table<SpanId, uint8_t>& open, SpanId s) {
  return open[s] ? basis.open_cost[s].cents + basis.lay_cost[s].cents : -1;
}

std::vector<NodeId> terminals_of(const Network& network, const Basis& basis) {
  std::vector<NodeId> terminals;
  for (PremisesId p : network.premises_nodes.ids())
    if (basis.needs[p].planned && network.premises_nodes[p].valid())
      terminals.push_back(network.premises_nodes[p]);
  return terminals;
}

struct Roots {
  std::vector<uint32_t> nodes;
  std::vector<HeadendId> headends;
};

Roots roots_of(const Network& network) {
  Roots roots;
  for (HeadendId h : network.headend_nodes.ids()) {
    const NodeId n = network.headend_nodes[h];
    if (!n.valid()) continue;
    roots.nodes.push_back(n.value);
    roots.headends.push_back(h);
  }
  return roots;
}

void grow(TrenchForest& forest, const Network& network, const Basis& basis,
          const Table<SpanId, uint8_t>& open) {
  std::vector<SteinerEdge> edges;
  edges.reserve(network.spans.size());
  for (SpanId s : network.spans.ids())
    edges.push_back({network.spans[s].from.value, network.spans[s].to.value, span_cost(basis, open, s)});
  std::vector<uint32_t> terminals;
  for (NodeId n : terminals_of(network, basis)) terminals.push_back(n.value);
  const Roots roots = roots_of(network);
  const SteinerForest grown = steiner_forest(steiner_graph(network.at.size(), edges), terminals, roots.nodes);
  for (NodeId n : network.at.ids()) {
    const uint32_t root = grown.root[n.value];
    if (root == steiner_none) continue;
    forest.headend[n] = roots.headends[root];
    if (grown.parent[n.value] == steiner_none) continue;
    forest.parent[n] = NodeId(grown.parent[n.value]);
    forest.parent_span[n] = SpanId(grown.parent_edge[n.value]);
  }
}

void reach_out_to_sites(TrenchForest& forest, const Network& network, const Basis& basis,
                        const Table<SpanId, uint8_t>& open) {
  const StreetGraph graph = open_graph(network, open);
  std::vector<Seed> seeds;
  for (NodeId n : network.at.ids())
    if (forest.holds(n)) seeds.push_back({n, 0});
  Search search(graph);
  search.from(std::span<const Seed>(seeds), [&](SpanId s) { return span_cost(basis, open, s); });
  for (SiteId s : network.site_nodes.ids()) {
    const NodeId site = network.site_nodes[s];
    if (!site.valid() || !site_is_allowed(basis, s) || !search.is_settled(site)) continue;
    for (NodeId n = site; !forest.holds(n); n = search.before(n)) {
      forest.headend[n] = forest.headend[search.seed(n)];
      forest.parent[n] = search.before(n);
      forest.parent_span[n] = search.by(n);
    }
  }
}

// Children of every node, by id.
struct Children {
  std::vector<uint32_t> first;
  std::vector<NodeId> list;
};

Children children_of(const TrenchForest& forest) {
  Children c;
  c.first.assign(forest.parent.size() + 1, 0);
  for (NodeId p : forest.parent)
    if (p.valid()) ++c.first[p.value + 1];
  for (size_t i = 1; i < c.first.size(); ++i) c.first[i] += c.first[i - 1];
  c.list.resize(c.first.back());
  std::vector<uint32_t> next(c.first.begin(), c.first.end() - 1);
  for (NodeId n : forest.parent.ids())
    if (forest.parent[n].valid()) c.list[next[forest.parent[n].value]++] = n;
  return c;
}

// Jump pointers after E. W. Myers, "An applicative random-access stack", Inf. Process. Lett. 17 (1983).
void enter(TrenchForest& forest, const Network& network, NodeId n) {
  Table<NodeId, uint32_t>& level = forest.level;
  forest.position[n] = static_cast<uint32_t>(forest.order.size());
  forest.order.push_back(n);
  const NodeId p = forest.parent[n];
  if (!p.valid()) {
    forest.jump[n] = n;
    level[n] = 0;
    forest.depth[n] = 0;
    return;
  }
  level[n] = level[p] + 1;
  forest.depth[n] = forest.depth[p] + to_whole_millimetres(network.spans[forest.parent_span[n]].length);
  const NodeId j = forest.jump[p];
  forest.jump[n] = level[p] - level[j] == level[j] - level[forest.jump[j]] ? forest.jump[j] : p;
}

void walk(TrenchForest& forest, const Network& network) {
  forest.order.clear();
  const Children children = children_of(forest);
  std::vector<NodeId> stack;
  for (NodeId root : network.at.ids()) {
    if (!forest.holds(root) || forest.parent[root].valid()) continue;
    stack.push_back(root);
    while (!stack.empty()) {
      const NodeId n = stack.back();
      stack.pop_back();
      enter(forest, network, n);
      for (uint32_t i = children.first[n.value + 1]; i-- > children.first[n.value];)
        stack.push_back(children.list[i]);
    }
  }
}

// Cuts branches that end at nothing that is wanted.
void prune(TrenchForest& forest, const Table<NodeId, uint8_t>& wanted) {
  Table<NodeId, uint32_t> children(forest.parent.size());
  for (NodeId p : forest.parent)
    if (p.valid()) ++children[p];
  for (NodeId leaf : forest.parent.ids())
    for (NodeId n = leaf; forest.parent[n].valid() && children[n] == 0 && !wanted[n];) {
      const NodeId up = forest.parent[n];
      forest.parent[n] = {};
      forest.parent_span[n] = {};
      forest.headend[n] = {};
      --children[up];
      n = up;
    }
}

}  // namespace

bool site_is_allowed(const Basis& basis, SiteId s) {
  return basis.site_allowed.empty() || basis.site_allowed[s] != 0;
}

NodeId TrenchForest::climb(NodeId n, int64_t least_depth) const {
  while (parent[n].valid() && depth[parent[n]] >= least_depth)
    n = depth[jump[n]] >= least_depth ? jump[n] : parent[n];
  return n;
}

NodeId TrenchForest::meet(NodeId a, NodeId b) const {
  if (level[a] < level[b]) std::swap(a, b);
  while (level[a] > level[b]) a = level[jump[a]] >= level[b] ? jump[a] : parent[a];
  while (a != b) {
    const bool far = jump[a] != jump[b];
    a = far ? jump[a] : parent[a];
    b = far ? jump[b] : parent[b];
  }
  return a;
}

std::vector<SpanId> TrenchForest::path(NodeId from, NodeId to) const {
  const NodeId top = meet(from, to);
  std::vector<SpanId> spans;
  for (NodeId n = from; n != top; n = parent[n]) spans.push_back(parent_span[n]);
  const size_t up = spans.size();
  for (NodeId n = to; n != top; n = parent[n]) spans.push_back(parent_span[n]);
  std::reverse(spans.begin() + static_cast<std::ptrdiff_t>(up), spans.end());
  return spans;
}

Table<SpanId, uint8_t> open_spans(const Network& network, const Basis& basis, const Asks& asks) {
  Table<SpanId, uint8_t> open(network.spans.size());
  for (SpanId s : network.spans.ids())
    open[s] = basis.usable[s] && !network.spans[s].forbidden &&
              !std::binary_search(asks.not_through.begin(), asks.not_through.end(), s);
  return open;
}

StreetGraph open_graph(const Network& network, const Table<SpanId, uint8_t>& open) {
  Table<SpanId, Ends> ends;
  ends.reserve(network.spans.size());
  for (const Span& s : network.spans) ends.add({s.from, s.to});
  return StreetGraph(network.at.size(), ends, open);
}

TrenchForest trench_forest(const Network& network, const Basis& basis, const Table<SpanId, uint8_t>& open) {
  const size_t n = network.at.size();
  TrenchForest forest{Table<NodeId, NodeId>(n),   Table<NodeId, SpanId>(n),
                      Table<NodeId, int64_t>(n),  Table<NodeId, HeadendId>(n),
                      Table<NodeId, uint32_t>(n), Table<NodeId, NodeId>(n),
                      Table<NodeId, uint32_t>(n), {}};
  grow(forest, network, basis, open);
  if (basis.sites_only) reach_out_to_sites(forest, network, basis, open);
  walk(forest, network);
  return forest;
}

void tidy(TrenchForest& forest, const Network& network, const Basis& basis) {
  Table<NodeId, uint8_t> wanted(network.at.size());
  for (NodeId n : terminals_of(network, basis)) wanted[n] = 1;
  if (basis.sites_only)
    for (SiteId s : network.site_nodes.ids())
      if (network.site_nodes[s].valid() && site_is_allowed(basis, s)) wanted[network.site_nodes[s]] = 1;
  prune(forest, wanted);
  walk(forest, network);
}

}  // namespace plan
