#include "solve/steiner_regions.h"

#include <algorithm>
#include <deque>
#include <functional>
#include <utility>

#include "base/check.h"
#include "solve/steiner_growth.h"

namespace plan {
namespace {

constexpr uint32_t none = steiner_none;

// The tree walked from one of its nodes: every subtree is one stretch of the walk.
class RootedTree {
 public:
  RootedTree(const SteinerGraph& graph, std::span<const uint8_t> terminal)
      : graph_(graph),
        terminal_(terminal),
        in_(graph.cost.size(), 0),
        enter_(graph.nodes(), none),
        leave_(graph.nodes(), 0),
        parent_edge_(graph.nodes(), none) {}

  void set(const SteinerTree& tree) {
    std::fill(in_.begin(), in_.end(), 0);
    for (uint32_t e : tree.edges) in_[e] = 1;
    walk();
  }
  bool has_edge(uint32_t e) const { return in_[e] != 0; }
  bool has(uint32_t v) const { return enter_[v] != none; }
  uint32_t enter(uint32_t v) const { return enter_[v]; }
  uint32_t leave(uint32_t v) const { return leave_[v]; }
  bool is_parent_edge(uint32_t v, uint32_t e) const { return parent_edge_[v] == e; }
  std::span<const uint32_t> order() const { return order_; }

  // Takes edges out and others in, without the dead ends that come of it.
  void change(std::span<const uint32_t> out, std::span<const uint32_t> in, SteinerTree& tree) {
    for (uint32_t e : out) in_[e] = 0;
    for (uint32_t e : in) in_[e] = 1;
    tree = pruned(graph_, terminal_, in_);
    set(tree);
  }

 private:
  void walk() {
    for (uint32_t v : order_) enter_[v] = parent_edge_[v] = none;
    order_.clear();
    uint32_t root = 0;
    while (root < graph_.nodes() && !terminal_[root]) ++root;
    if (root == graph_.nodes()) return;
    std::vector<std::pair<uint32_t, size_t>> stack{{root, graph_.first[root]}};
    begin(root, none);
    while (!stack.empty()) {
      auto& [v, arc] = stack.back();
      if (arc == graph_.first[v + 1]) {
        leave_[v] = static_cast<uint32_t>(order_.size());
        stack.pop_back();
        continue;
      }
      const SteinerGraph::Arc a = graph_.arcs[arc++];
      if (!in_[a.edge] || parent_edge_[v] == a.edge) continue;
      begin(a.to, a.edge);
      stack.emplace_back(a.to, graph_.first[a.to]);
    }
  }
  void begin(uint32_t v, uint32_t edge) {
    enter_[v] = static_cast<uint32_t>(order_.size());
    parent_edge_[v] = edge;
    order_.push_back(v);
  }

  const SteinerGraph& graph_;
  std::span<const uint8_t> terminal_;
  std::vector<uint8_t> in_;
  std::vector<uint32_t> enter_, leave_, parent_edge_, order_;
};

// One ball and the small problem in it.
class Region {
 public:
  Region(const SteinerGraph& graph, std::span<const uint8_t> terminal, const RootedTree& tree)
      : graph_(graph),
        terminal_(terminal),
        tree_(tree),
        distance_(graph.nodes(), INT64_MAX),
        number_(graph.nodes(), none) {}

  // The `size` nodes nearest to a centre.
  void gather(uint32_t centre, size_t size) {
    for (uint32_t v : touched_) distance_[v] = INT64_MAX;
    for (uint32_t v : ball_) number_[v] = none;
    touched_.clear(), ball_.clear(), heap_.clear();
    arrive(centre, 0);
    while (!heap_.empty() && ball_.size() < size) {
      const auto [d, v] = heap_.front();
      std::pop_heap(heap_.begin(), heap_.end(), std::greater<>());
      heap_.pop_back();
      if (d != distance_[v]) continue;
      number_[v] = static_cast<uint32_t>(ball_.size());
      ball_.push_back(v);
      for (const SteinerGraph::Arc& a : graph_.at(v)) arrive(a.to, d + graph_.cost[a.edge]);
    }
  }
  const std::vector<uint32_t>& ball() const { return ball_; }

  // Numbers of the problem: the ball's nodes, then the pieces outside it.
  const SteinerProblem& problem() {
    find_pieces();
    problem_.terminal.assign(ball_.size() + pieces_, 1);
    for (size_t i = 0; i < ball_.size(); ++i) problem_.terminal[i] = terminal_[ball_[i]];
    problem_.edges.clear(), edges_.clear(), old_.clear();
    old_cost_ = 0;
    for (uint32_t i = 0; i < ball_.size(); ++i)
      for (const SteinerGraph::Arc& a : graph_.at(ball_[i])) add(i, a);
    return problem_;
  }
  int64_t old_cost() const { return old_cost_; }
  const std::vector<uint32_t>& old_edges() const { return old_; }
  std::vector<uint32_t> whole(const SteinerTree& small) const {
    std::vector<uint32_t> edges;
    for (uint32_t e : small.edges) edges.push_back(edges_[e]);
    return edges;
  }

 private:
  struct Stretch {  // of the walk: the subtree of a node of the ball, or of a piece's first node
    uint32_t begin, end;
    uint32_t piece;  // none: a node of the ball
    uint32_t up = none;
  };

  void arrive(uint32_t v, int64_t d) {
    if (d >= distance_[v]) return;
    if (distance_[v] == INT64_MAX) touched_.push_back(v);
    distance_[v] = d;
    heap_.emplace_back(d, v);
    std::push_heap(heap_.begin(), heap_.end(), std::greater<>());
  }

  // A piece begins where a tree edge leaves the ball downwards; one more holds the walk's own root, unless
  // that lies in the ball.
  void find_pieces() {
    stretches_.clear();
    pieces_ = 0;
    bool root_inside = false;
    for (uint32_t v : ball_) {
      if (!tree_.has(v)) continue;
      root_inside |= tree_.enter(v) == 0;
      stretches_.push_back({tree_.enter(v), tree_.leave(v), none});
      for (const SteinerGraph::Arc& a : graph_.at(v))
        if (number_[a.to] == none && tree_.has_edge(a.edge) && tree_.is_parent_edge(a.to, a.edge))
          stretches_.push_back({tree_.enter(a.to), tree_.leave(a.to), static_cast<uint32_t>(pieces_++)});
    }
    top_piece_ = none;
    if (!root_inside && !stretches_.empty()) top_piece_ = static_cast<uint32_t>(pieces_++);
    std::sort(stretches_.begin(), stretches_.end(),
              [](const Stretch& a, const Stretch& b) { return a.begin < b.begin; });
    for (uint32_t i = 0; i < stretches_.size(); ++i) {
      uint32_t up = i == 0 ? none : i - 1;
      while (up != none && stretches_[up].end <= stretches_[i].begin) up = stretches_[up].up;
      stretches_[i].up = up;
    }
  }
  // The piece of a tree node outside the ball.
  uint32_t piece_of(uint32_t v) const {
    const uint32_t at = tree_.enter(v);
    auto after = std::upper_bound(stretches_.begin(), stretches_.end(), at,
                                  [](uint32_t x, const Stretch& s) { return x < s.begin; });
    if (after == stretches_.begin()) return top_piece_;
    auto i = static_cast<uint32_t>(after - stretches_.begin() - 1);
    while (i != none && stretches_[i].end <= at) i = stretches_[i].up;
    if (i == none) return top_piece_;
    PLAN_CHECK(stretches_[i].piece != none);
    return stretches_[i].piece;
  }

  void add(uint32_t from, const SteinerGraph::Arc& a) {
    uint32_t to = number_[a.to];
    const bool inside = to != none;
    if (inside && to < from) return;  // seen from the other end
    const bool old = tree_.has_edge(a.edge);
    if (!inside) {
      if (!tree_.has(a.to)) return;
      to = static_cast<uint32_t>(ball_.size()) + piece_of(a.to);
    }
    if (old) old_.push_back(a.edge), old_cost_ += graph_.cost[a.edge];
    problem_.edges.push_back({from, to, graph_.cost[a.edge]});
    edges_.push_back(a.edge);
  }

  const SteinerGraph& graph_;
  std::span<const uint8_t> terminal_;
  const RootedTree& tree_;
  std::vector<int64_t> distance_;
  std::vector<uint32_t> number_, touched_, ball_;
  std::vector<std::pair<int64_t, uint32_t>> heap_;
  std::vector<Stretch> stretches_;
  size_t pieces_ = 0;
  uint32_t top_piece_ = none;
  SteinerProblem problem_;
  std::vector<uint32_t> edges_, old_;
  int64_t old_cost_ = 0;
};

}  // namespace

void improve_by_regions(const SteinerGraph& graph, std::span<const uint8_t> terminal,
                        const RegionSearch& search, SteinerTree& tree, int64_t& balls) {
  RootedTree rooted(graph, terminal);
  rooted.set(tree);
  Region region(graph, terminal, rooted);
  for (const uint32_t size : search.sizes) {
    std::vector<uint8_t> stale(graph.nodes(), 1);  // to be tried at this size
    for (bool any = true; any && balls > 0;) {
      any = false;
      const std::vector<uint32_t> centres(rooted.order().begin(), rooted.order().end());
      for (const uint32_t centre : centres) {
        if (balls <= 0 || (search.stop && search.stop())) return;
        if (!stale[centre] || !rooted.has(centre)) continue;
        --balls;
        region.gather(centre, size);
        const SteinerTree small = search.solver(region.problem());
        // The inner half of a ball has been looked at from all sides.
        for (size_t i = 0; i < region.ball().size() / 3; ++i) stale[region.ball()[i]] = 0;
        stale[centre] = 0;
        if (small.cost >= region.old_cost()) continue;
        any = true;
        const int64_t before = tree.cost;
        rooted.change(region.old_edges(), region.whole(small), tree);
        PLAN_CHECK(tree.cost < before);
        for (uint32_t v : region.ball()) stale[v] = 1;
      }
    }
  }
}

}  // namespace plan
