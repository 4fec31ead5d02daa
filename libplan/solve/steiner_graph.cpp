#include "base/check.h"
#include "solve/steiner.h"

namespace plan {

SteinerGraph steiner_graph(size_t nodes, std::span<const SteinerEdge> edges) {
  SteinerGraph g;
  g.first.assign(nodes + 1, 0);
  g.cost.reserve(edges.size());
  const auto kept = [](const SteinerEdge& e) { return e.cost >= 0 && e.from != e.to; };
  for (const SteinerEdge& e : edges) {
    PLAN_CHECK(e.from < nodes && e.to < nodes);
    g.cost.push_back(e.cost);
    if (!kept(e)) continue;
    ++g.first[e.from + 1];
    ++g.first[e.to + 1];
  }
  for (size_t i = 0; i < nodes; ++i) g.first[i + 1] += g.first[i];
  g.arcs.resize(g.first[nodes]);
  std::vector<size_t> next(g.first.begin(), g.first.end() - 1);
  for (uint32_t i = 0; i < edges.size(); ++i) {
    const SteinerEdge& e = edges[i];
    if (!kept(e)) continue;
    g.arcs[next[e.from]++] = {e.to, i};
    g.arcs[next[e.to]++] = {e.from, i};
  }
  return g;
}

}  // namespace plan
