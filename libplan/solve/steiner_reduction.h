// A smaller Steiner problem with the same optimum, and the way back.
//
//   SteinerReduction r(problem);
//   r.reduce();                                   // tests in turns until none bites
//   SteinerProblem small = r.problem();           // its optimum + r.fixed() is that of the whole
//   SteinerTree tree = r.expanded(small_tree);    // in the edges of the whole
//
// Tests (C. W. Duin, A. Volgenant, "Reduction tests for the Steiner problem in graphs", Networks 19 (1989)
// 549-567; T. Polzin, S. Vahdati Daneshmand, "Improved algorithms for the Steiner problem in networks",
// Discrete Applied Mathematics 112 (2001) 263-300):
// - degree: a dead end goes, a terminal at one is joined to its neighbour, two edges in line become one;
// - parallels and loops: the cheapest stays;
// - special distance: an edge goes where a walk between its ends has no stretch between terminals longer than
//   it. Edge by edge on what is left, so that two edges never justify each other;
// - nearest vertex: a terminal's cheapest edge is taken where leaving by the next one, or reaching another
//   terminal over the cheapest, shows that some optimum holds it.
// A log of what each edge stands for undoes all of it. Searches are cut off after a fixed number of nodes, so
// a round is near linear.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "solve/steiner_problem.h"

namespace plan {

class SteinerReduction {
 public:
  explicit SteinerReduction(const SteinerProblem& problem);
  struct Limits {
    int rounds = 8;
    size_t arcs = 800;  // looked at by one search
  };
  void reduce(Limits limits);
  void reduce() { reduce(Limits{}); }
  // Degree tests and parallels alone: what is forced in every tree.
  void reduce_degrees();
  // Takes out an edge of problem() that no tree worth having holds; to be followed by reduce().
  void remove(uint32_t small_edge);

  int64_t fixed() const { return fixed_cost_; }
  const SteinerProblem& problem();  // renumbered; good until the next change
  SteinerTree expanded(std::span<const uint32_t> small_edges) const;

 private:
  struct Edge {
    uint32_t from, to;
    int64_t cost;
    uint32_t part;
    bool alive;
  };
  struct Part {  // an edge of the whole, or two parts in line
    uint32_t a, b;
  };

  uint32_t other(const Edge& e, uint32_t v) const { return e.from == v ? e.to : e.from; }
  void add(uint32_t from, uint32_t to, int64_t cost, uint32_t part);
  void drop(uint32_t edge);
  void compact(uint32_t v);
  void ask(uint32_t v);
  void degrees();
  bool degree(uint32_t v);
  void contract(uint32_t edge, uint32_t into);
  void merge_in_line(uint32_t v);
  bool special_distances();
  bool is_bypassed(uint32_t edge);
  bool nearest_vertices();
  bool reaches_terminal(uint32_t from, uint32_t without, int64_t within);
  void forget();
  void reach(uint32_t v, int64_t d);

  Limits limits_;
  std::vector<Edge> edges_;
  std::vector<std::vector<uint32_t>> at_;  // edges of a node; dead ones are taken out when it is looked at
  std::vector<uint32_t> degree_;
  std::vector<uint8_t> terminal_, asked_;
  size_t terminals_ = 0;
  std::vector<Part> parts_;
  std::vector<uint32_t> fixed_;  // parts
  int64_t fixed_cost_ = 0;
  std::vector<uint32_t> queue_;

  SteinerProblem small_;
  std::vector<uint32_t> small_edges_;  // of edges_

  std::vector<int64_t> distance_;  // of the search at hand
  std::vector<uint32_t> touched_;
  std::vector<std::pair<int64_t, uint32_t>> heap_;
};

}  // namespace plan
