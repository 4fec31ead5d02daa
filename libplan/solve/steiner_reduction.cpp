#include "solve/steiner_reduction.h"

#include <algorithm>
#include <functional>
#include <numeric>
#include <tuple>
#include <utility>

#include "base/check.h"

namespace plan {
namespace {

constexpr uint32_t none = steiner_none;
constexpr int64_t far = INT64_MAX;

// By their nodes, then cost: whatever order they are given in, the same is done with them.
std::vector<uint32_t> by_ends(const std::vector<SteinerEdge>& edges) {
  std::vector<uint32_t> order(edges.size());
  std::iota(order.begin(), order.end(), 0u);
  const auto key = [&](uint32_t i) {
    const SteinerEdge& e = edges[i];
    return std::tuple(std::min(e.from, e.to), std::max(e.from, e.to), e.cost, i);
  };
  std::sort(order.begin(), order.end(), [&](uint32_t i, uint32_t j) { return key(i) < key(j); });
  return order;
}

}  // namespace

SteinerReduction::SteinerReduction(const SteinerProblem& problem)
    : at_(problem.nodes()),
      degree_(problem.nodes(), 0),
      terminal_(problem.terminal),
      asked_(problem.nodes(), 0),
      distance_(problem.nodes(), far) {
  for (uint8_t t : terminal_) terminals_ += t;
  edges_.reserve(problem.edges.size());
  for (uint32_t i = 0; i < problem.edges.size(); ++i) parts_.push_back({i, none});
  for (const uint32_t i : by_ends(problem.edges)) {
    const SteinerEdge& e = problem.edges[i];
    if (e.cost >= 0 && e.from != e.to) add(std::min(e.from, e.to), std::max(e.from, e.to), e.cost, i);
  }
  for (uint32_t v = 0; v < at_.size(); ++v) ask(v);
}

// An edge beside another one of the same ends: the cheaper stays.
void SteinerReduction::add(uint32_t from, uint32_t to, int64_t cost, uint32_t part) {
  const uint32_t few = at_[from].size() <= at_[to].size() ? from : to;
  const uint32_t end = few == from ? to : from;
  for (uint32_t i : at_[few]) {
    Edge& e = edges_[i];
    if (!e.alive || other(e, few) != end) continue;
    if (e.cost <= cost) return;
    e.cost = cost, e.part = part;
    return;
  }
  edges_.push_back({from, to, cost, part, true});
  const auto id = static_cast<uint32_t>(edges_.size() - 1);
  for (uint32_t v : {from, to}) at_[v].push_back(id), ++degree_[v];
}

void SteinerReduction::drop(uint32_t edge) {
  Edge& e = edges_[edge];
  e.alive = false;
  for (uint32_t v : {e.from, e.to}) --degree_[v], ask(v);
}

void SteinerReduction::compact(uint32_t v) {
  if (at_[v].size() > degree_[v]) std::erase_if(at_[v], [&](uint32_t i) { return !edges_[i].alive; });
}

void SteinerReduction::ask(uint32_t v) {
  if (asked_[v]) return;
  asked_[v] = 1;
  queue_.push_back(v);
}

void SteinerReduction::degrees() {
  while (!queue_.empty()) {
    const uint32_t v = queue_.back();
    queue_.pop_back();
    asked_[v] = 0;
    while (degree(v)) {
    }
  }
}

// True where the node has changed and stays.
bool SteinerReduction::degree(uint32_t v) {
  compact(v);
  if (terminal_[v]) {
    if (degree_[v] != 1 || terminals_ <= 1) return false;
    const uint32_t e = at_[v][0];
    contract(e, other(edges_[e], v));
    return false;
  }
  if (degree_[v] == 1) drop(at_[v][0]);
  if (degree_[v] == 2) merge_in_line(v);
  return false;
}

// Every tree takes the edge: its ends become one, `into`.
void SteinerReduction::contract(uint32_t edge, uint32_t into) {
  const uint32_t gone = other(edges_[edge], into);
  fixed_.push_back(edges_[edge].part);
  fixed_cost_ += edges_[edge].cost;
  drop(edge);
  if (terminal_[gone] && terminal_[into]) --terminals_;
  terminal_[into] = terminal_[into] | terminal_[gone];
  terminal_[gone] = 0;
  compact(gone);
  for (uint32_t i : std::vector<uint32_t>(at_[gone])) {
    const Edge e = edges_[i];
    const uint32_t end = other(e, gone);
    drop(i);
    if (end != into) add(into, end, e.cost, e.part), ask(end);
  }
  at_[gone].clear();
  ask(into);
}

void SteinerReduction::merge_in_line(uint32_t v) {
  const Edge e = edges_[at_[v][0]], f = edges_[at_[v][1]];
  const uint32_t a = other(e, v), b = other(f, v);
  drop(at_[v][0]);
  drop(at_[v][1]);
  PLAN_CHECK(a != b);  // parallels are never kept
  parts_.push_back({e.part, f.part});
  add(a, b, e.cost + f.cost, static_cast<uint32_t>(parts_.size() - 1));
  ask(a), ask(b);
}

void SteinerReduction::forget() {
  for (uint32_t v : touched_) distance_[v] = far;
  touched_.clear();
  heap_.clear();
}
void SteinerReduction::reach(uint32_t v, int64_t d) {
  if (d >= distance_[v]) return;
  if (distance_[v] == far) touched_.push_back(v);
  distance_[v] = d;
  heap_.emplace_back(d, v);
  std::push_heap(heap_.begin(), heap_.end(), std::greater<>());
}

// From one end, every stretch between terminals at most as long as the edge: is the other end reached?
bool SteinerReduction::is_bypassed(uint32_t edge) {
  const Edge& e = edges_[edge];
  forget();
  reach(e.from, 0);
  for (size_t looked = 0; !heap_.empty() && looked < limits_.arcs;) {
    const auto [d, v] = heap_.front();
    std::pop_heap(heap_.begin(), heap_.end(), std::greater<>());
    heap_.pop_back();
    if (d != distance_[v]) continue;
    if (v == e.to) return true;
    looked += at_[v].size();
    const int64_t from = terminal_[v] ? 0 : d;  // a new stretch begins
    for (uint32_t i : at_[v]) {
      const Edge& next = edges_[i];
      if (!next.alive || i == edge || from + next.cost > e.cost) continue;
      reach(other(next, v), from + next.cost);
    }
  }
  return false;
}

bool SteinerReduction::special_distances() {
  std::vector<uint32_t> order;
  for (uint32_t i = 0; i < edges_.size(); ++i)
    if (edges_[i].alive) order.push_back(i);
  std::stable_sort(order.begin(), order.end(),
                   [&](uint32_t i, uint32_t j) { return edges_[i].cost > edges_[j].cost; });
  bool any = false;
  for (uint32_t i : order) {
    if (!edges_[i].alive || !is_bypassed(i)) continue;
    drop(i);
    any = true;
  }
  return any;
}

// A terminal other than `without`, which is not passed, at most so far from a node.
bool SteinerReduction::reaches_terminal(uint32_t from, uint32_t without, int64_t within) {
  forget();
  reach(from, 0);
  for (size_t looked = 0; !heap_.empty() && looked < limits_.arcs;) {
    const auto [d, v] = heap_.front();
    std::pop_heap(heap_.begin(), heap_.end(), std::greater<>());
    heap_.pop_back();
    if (d != distance_[v]) continue;
    if (terminal_[v]) return true;
    looked += at_[v].size();
    for (uint32_t i : at_[v]) {
      const Edge& e = edges_[i];
      const uint32_t end = other(e, v);
      if (e.alive && end != without && d + e.cost <= within) reach(end, d + e.cost);
    }
  }
  return false;
}

bool SteinerReduction::nearest_vertices() {
  bool any = false;
  for (uint32_t v = 0; v < at_.size(); ++v) {
    if (!terminal_[v] || terminals_ <= 1) continue;
    compact(v);
    if (degree_[v] < 2) continue;
    uint32_t least = none;
    int64_t second = far;
    for (uint32_t i : at_[v]) {
      if (least == none || edges_[i].cost < edges_[least].cost) {
        if (least != none) second = edges_[least].cost;
        least = i;
      } else {
        second = std::min(second, edges_[i].cost);
      }
    }
    const uint32_t end = other(edges_[least], v);
    if (!terminal_[end] && !reaches_terminal(end, v, second - edges_[least].cost)) continue;
    contract(least, end);
    any = true;
  }
  return any;
}

void SteinerReduction::reduce_degrees() {
  degrees();
}

void SteinerReduction::reduce(Limits limits) {
  limits_ = limits;
  degrees();
  for (int round = 0; round < limits.rounds; ++round) {
    bool any = special_distances();
    degrees();
    any |= nearest_vertices();
    degrees();
    if (!any) break;
  }
}

void SteinerReduction::remove(uint32_t small_edge) {
  if (edges_[small_edges_[small_edge]].alive) drop(small_edges_[small_edge]);
}

const SteinerProblem& SteinerReduction::problem() {
  small_ = {};
  small_edges_.clear();
  std::vector<uint32_t> number(at_.size(), none);
  for (uint32_t v = 0; v < at_.size(); ++v) {
    if (degree_[v] == 0 && !terminal_[v]) continue;
    number[v] = static_cast<uint32_t>(small_.terminal.size());
    small_.terminal.push_back(terminal_[v]);
  }
  for (uint32_t i = 0; i < edges_.size(); ++i) {
    const Edge& e = edges_[i];
    if (!e.alive) continue;
    small_.edges.push_back({number[e.from], number[e.to], e.cost});
    small_edges_.push_back(i);
  }
  return small_;
}

SteinerTree SteinerReduction::expanded(std::span<const uint32_t> small_edges) const {
  SteinerTree tree;
  tree.cost = fixed_cost_;
  std::vector<uint32_t> parts = fixed_;
  for (uint32_t s : small_edges) {
    parts.push_back(edges_[small_edges_[s]].part);
    tree.cost += edges_[small_edges_[s]].cost;
  }
  while (!parts.empty()) {
    const Part p = parts_[parts.back()];
    parts.pop_back();
    if (p.b == none)
      tree.edges.push_back(p.a);
    else
      parts.push_back(p.a), parts.push_back(p.b);
  }
  std::sort(tree.edges.begin(), tree.edges.end());
  return tree;
}

}  // namespace plan
