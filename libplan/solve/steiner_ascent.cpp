#include "solve/steiner_ascent.h"

#include <algorithm>
#include <functional>
#include <queue>
#include <utility>

namespace plan {
namespace {

enum class Role : uint8_t { steiner, terminal, root };

class DualAscent {
 public:
  DualAscent(const SteinerGraph& graph, std::vector<Role> role, int64_t work_limit)
      : graph_(graph), role_(std::move(role)), work_left_(work_limit) {
    slack_.reserve(graph.arcs.size());
    for (const SteinerGraph::Arc& a : graph.arcs) slack_.push_back(graph.cost[a.edge]);
    stamp_.assign(role_.size(), 0);
    for (uint32_t v = 0; v < role_.size(); ++v)
      if (role_[v] == Role::terminal) heap_.emplace(1, v);
  }

  SteinerAscent run() {
    while (!heap_.empty() && work_left_ > 0) {
      const Entry entry = heap_.top();
      heap_.pop();
      raise_while_smallest(entry.second);
    }
    return {bound_, heap_.empty(), std::move(slack_)};
  }

 private:
  static constexpr size_t patience = 8;
  using Entry = std::pair<size_t, uint32_t>;  // nodes of the component, its terminal

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
      work_left_ -= static_cast<int64_t>(graph_.first[v + 1] - graph_.first[v]) + 1;
      for (size_t a = graph_.first[v]; a < graph_.first[v + 1]; ++a) {
        if (stamp_[graph_.arcs[a].to] == stamp_now_) continue;
        if (slack_[a] == 0)
          add(graph_.arcs[a].to);
        else
          cut_.push_back(a);
      }
    }
    return true;
  }
  // Pays for the cheapest entering arc; false where nothing enters.
  bool raise() {
    std::erase_if(cut_, [&](size_t a) { return stamp_[graph_.arcs[a].to] == stamp_now_; });
    work_left_ -= static_cast<int64_t>(cut_.size());
    if (cut_.empty()) return false;
    int64_t least = INT64_MAX;
    for (size_t a : cut_) least = std::min(least, slack_[a]);
    bound_ += least;
    for (size_t a : cut_) {
      slack_[a] -= least;
      if (slack_[a] == 0 && stamp_[graph_.arcs[a].to] != stamp_now_) add(graph_.arcs[a].to);
    }
    return true;
  }

  const SteinerGraph& graph_;
  std::vector<Role> role_;
  std::vector<int64_t> slack_;  // of the arcs into each node
  std::vector<uint32_t> stamp_;
  uint32_t stamp_now_ = 0;
  std::vector<uint32_t> members_;
  std::vector<size_t> cut_;
  size_t scanned_ = 0;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> heap_;
  int64_t bound_ = 0;
  int64_t work_left_;
};

}  // namespace

SteinerAscent steiner_ascent(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                             std::span<const uint32_t> roots, int64_t work_limit) {
  std::vector<Role> role;
  role.reserve(terminal.size());
  for (uint8_t t : terminal) role.push_back(t ? Role::terminal : Role::steiner);
  for (uint32_t r : roots) role[r] = Role::root;
  return DualAscent(graph, std::move(role), work_limit).run();
}

}  // namespace plan
