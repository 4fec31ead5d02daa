#include <algorithm>
#include <utility>

#include "solve/steiner.h"
#include "solve/steiner_ascent.h"

namespace plan {
namespace {

enum class Role : uint8_t { steiner, terminal, root };

// What is left after dead ends are gone: a terminal of degree 1 hands its role to its neighbour, and the
// edge between them becomes a constant.
struct Rest {
  std::vector<Role> role;
  std::vector<uint8_t> alive;
  int64_t forced = 0;
};

Rest contract_dead_ends(const SteinerGraph& graph, std::vector<Role> role) {
  const auto n = static_cast<uint32_t>(graph.nodes());
  Rest rest{std::move(role), std::vector<uint8_t>(n, 1), 0};
  std::vector<size_t> degree(n);
  std::vector<uint32_t> ready;
  const auto ask = [&](uint32_t v) {
    if (degree[v] == 1 && rest.role[v] != Role::root) ready.push_back(v);
  };
  for (uint32_t v = 0; v < n; ++v) degree[v] = graph.at(v).size();
  for (uint32_t v = 0; v < n; ++v) ask(v);
  while (!ready.empty()) {
    const uint32_t v = ready.back();
    ready.pop_back();
    if (degree[v] != 1) continue;  // its neighbour went first: a component without a root
    rest.alive[v] = 0;
    degree[v] = 0;
    for (const SteinerGraph::Arc& a : graph.at(v)) {
      if (!rest.alive[a.to]) continue;
      if (rest.role[v] == Role::terminal) {
        rest.forced += graph.cost[a.edge];
        if (rest.role[a.to] == Role::steiner) rest.role[a.to] = Role::terminal;
      }
      --degree[a.to];
      ask(a.to);
    }
  }
  return rest;
}

SteinerGraph alive_graph(const SteinerGraph& graph, const Rest& rest) {
  SteinerGraph out;
  out.cost = graph.cost;
  out.first.reserve(graph.first.size());
  out.first.push_back(0);
  for (uint32_t v = 0; v < graph.nodes(); ++v) {
    if (rest.alive[v])
      for (const SteinerGraph::Arc& a : graph.at(v))
        if (rest.alive[a.to]) out.arcs.push_back(a);
    out.first.push_back(out.arcs.size());
  }
  return out;
}

// The heuristic's ratio on the rest: at least cost / (2(1 - 1/k)), rounded up.
int64_t ratio_bound(const SteinerGraph& graph, const Rest& rest, std::span<const uint32_t> roots) {
  std::vector<uint32_t> terminals;
  for (uint32_t v = 0; v < rest.role.size(); ++v)
    if (rest.alive[v] && rest.role[v] == Role::terminal) terminals.push_back(v);
  if (terminals.empty()) return 0;
  const int64_t k = static_cast<int64_t>(terminals.size()) + 1;
  const int64_t cost = steiner_forest(graph, terminals, roots).grown_cost;
  // cost * k / (2(k - 1)) without a product that could overflow.
  const int64_t twice = 2 * (k - 1), whole = cost / twice, part = cost % twice;
  return whole * k + (part * k + twice - 1) / twice;
}

}  // namespace

SteinerBound steiner_bound(const SteinerGraph& graph, std::span<const uint32_t> terminals,
                           std::span<const uint32_t> roots, int64_t work_limit) {
  std::vector<uint8_t> reached(graph.nodes(), 0);
  std::vector<uint32_t> queue;
  const auto reach = [&](uint32_t v) {
    if (!reached[v]) reached[v] = 1, queue.push_back(v);
  };
  for (uint32_t r : roots) reach(r);
  for (size_t i = 0; i < queue.size(); ++i)
    for (const SteinerGraph::Arc& a : graph.at(queue[i])) reach(a.to);
  std::vector<Role> role(graph.nodes(), Role::steiner);
  for (uint32_t t : terminals)
    if (reached[t]) role[t] = Role::terminal;
  for (uint32_t r : roots) role[r] = Role::root;

  const Rest rest = contract_dead_ends(graph, std::move(role));
  std::vector<uint8_t> terminal;
  for (uint32_t v = 0; v < graph.nodes(); ++v)
    terminal.push_back(rest.alive[v] && rest.role[v] == Role::terminal);
  const SteinerAscent ascent = steiner_ascent(alive_graph(graph, rest), terminal, roots, work_limit);
  int64_t bound = ascent.bound;
  if (!ascent.complete) bound = std::max(bound, ratio_bound(graph, rest, roots));
  return {rest.forced + bound, rest.forced, ascent.complete};
}

}  // namespace plan
