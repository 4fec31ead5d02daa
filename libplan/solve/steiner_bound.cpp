#include <algorithm>
#include <functional>
#include <queue>
#include <utility>

#include "base/check.h"
#include "solve/steiner.h"

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

class DualAscent {
 public:
  DualAscent(const SteinerGraph& graph, const Rest& rest, int64_t work_limit)
      : role_(rest.role), work_left_(work_limit) {
    copy_alive(graph, rest.alive);
    stamp_.assign(role_.size(), 0);
    for (uint32_t v = 0; v < role_.size(); ++v)
      if (rest.alive[v] && role_[v] == Role::terminal) heap_.emplace(1, v);
  }

  // The sum of the raises so far; complete() tells whether the roots reach all terminals.
  int64_t run() {
    while (!heap_.empty() && work_left_ > 0) {
      const Entry entry = heap_.top();
      heap_.pop();
      raise_while_smallest(entry.second);
    }
    return bound_;
  }
  bool complete() const { return heap_.empty(); }

 private:
  static constexpr size_t patience = 8;
  using Entry = std::pair<size_t, uint32_t>;  // nodes of the component, its terminal

  struct InArc {
    uint32_t tail;
    int64_t slack;  // reduced cost
  };

  void copy_alive(const SteinerGraph& graph, const std::vector<uint8_t>& alive) {
    first_.reserve(alive.size() + 1);
    first_.push_back(0);
    for (uint32_t v = 0; v < alive.size(); ++v) {
      if (alive[v])
        for (const SteinerGraph::Arc& a : graph.at(v))
          if (alive[a.to]) arcs_.push_back({a.to, graph.cost[a.edge]});
      first_.push_back(arcs_.size());
    }
  }

  // The component of t: all nodes that reach t over arcs without slack. Raised as long as it is the
  // smallest; given up when a root or another waiting terminal reaches it.
  void raise_while_smallest(uint32_t t) {
    ++stamp_now_;
    members_.clear();
    cut_.clear();
    scanned_ = 0;
    add(t);
    while (scan(t)) {
      if (work_left_ <= 0 || is_overtaken(t)) {
        heap_.emplace(members_.size(), t);
        return;
      }
      if (!raise()) return;
    }
  }
  // Smallest first; a large component stays a little longer, since coming back to it costs its size.
  bool is_overtaken(uint32_t t) const {
    if (heap_.empty()) return false;
    const Entry next = heap_.top();
    return Entry(members_.size(), t) > Entry(next.first + next.first / patience, next.second);
  }
  void add(uint32_t v) {
    stamp_[v] = stamp_now_;
    members_.push_back(v);
  }
  // Takes in what reaches the component without slack; false where that is a root or a waiting terminal.
  bool scan(uint32_t t) {
    while (scanned_ < members_.size()) {
      const uint32_t v = members_[scanned_++];
      if (v != t && role_[v] != Role::steiner) {
        role_[t] = Role::steiner;
        return false;
      }
      work_left_ -= static_cast<int64_t>(first_[v + 1] - first_[v]) + 1;
      for (size_t a = first_[v]; a < first_[v + 1]; ++a) {
        if (stamp_[arcs_[a].tail] == stamp_now_) continue;
        if (arcs_[a].slack == 0)
          add(arcs_[a].tail);
        else
          cut_.push_back(a);
      }
    }
    return true;
  }
  // Pays for the cheapest entering arc; false where nothing enters.
  bool raise() {
    std::erase_if(cut_, [&](size_t a) { return stamp_[arcs_[a].tail] == stamp_now_; });
    work_left_ -= static_cast<int64_t>(cut_.size());
    if (cut_.empty()) return false;
    int64_t least = INT64_MAX;
    for (size_t a : cut_) least = std::min(least, arcs_[a].slack);
    bound_ += least;
    for (size_t a : cut_) {
      arcs_[a].slack -= least;
      if (arcs_[a].slack == 0 && stamp_[arcs_[a].tail] != stamp_now_) add(arcs_[a].tail);
    }
    return true;
  }

  std::vector<Role> role_;
  std::vector<size_t> first_;
  std::vector<InArc> arcs_;  // arcs into each node
  std::vector<uint32_t> stamp_;
  uint32_t stamp_now_ = 0;
  std::vector<uint32_t> members_;
  std::vector<size_t> cut_;
  size_t scanned_ = 0;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> heap_;
  int64_t bound_ = 0;
  int64_t work_left_;
};

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
  DualAscent ascent(graph, rest, work_limit);
  int64_t bound = ascent.run();
  if (!ascent.complete()) bound = std::max(bound, ratio_bound(graph, rest, roots));
  return {rest.forced + bound, rest.forced, ascent.complete()};
}

}  // namespace plan
