// Seeded random station trees for every split architecture.
#pragma once
#include <algorithm>
#include <cmath>
#include <random>

#include "unit/fibre/hand_made.h"

namespace hand_made {

enum class Architecture {
  none,
  headend,
  cabinet,
  branch_point,
  building,
  headend_cabinet,
  cabinet_branch,
  cabinet_building,
  all_at_cabinet,
  count_
};

class RandomTree {
 public:
  RandomTree(uint32_t seed, Architecture a) : random_(seed), a_(a) {}

  Estate make() {
    choose_rules();
    const int headends = 1 + below(2);
    for (int h = 0; h < headends; ++h) {
      const StationId top = e_.headend(0, headend_stages());
      const int cabinets = 1 + below(4);
      StationId last = top;
      for (int c = 0; c < cabinets; ++c) {
        const StationId from = below(4) == 0 ? last : top;  // now and then a cabinet behind a cabinet
        last = add_cabinet(from);
      }
      if (direct_) hang_premises(top, 5);
    }
    e_.unserved(1 + below(3), true);
    e_.unserved(2, false);
    return std::move(e_);
  }

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<uint32_t>(n)); }

  void choose_rules() {
    const int sizes[] = {2, 4, 8, 16, 32};
    const int r1 = sizes[below(3)], r2 = sizes[below(4)];
    using P = SplitterPlace;
    switch (a_) {
      case Architecture::none:
        e_.split({});
        break;
      case Architecture::headend:
        e_.split({{P::headend, r2}});
        break;
      case Architecture::cabinet:
        e_.split({{P::cabinet, r2}});
        break;
      case Architecture::branch_point:
        e_.split({{P::branch_point, r1}});
        break;
      case Architecture::building:
        e_.split({{P::building, r1}});
        break;
      case Architecture::headend_cabinet:
        e_.split({{P::headend, r1}, {P::cabinet, r2}});
        break;
      case Architecture::cabinet_branch:
        e_.split({{P::cabinet, r1}, {P::branch_point, r2}});
        break;
      case Architecture::cabinet_building:
        e_.split({{P::cabinet, r1}, {P::building, r2}});
        break;
      case Architecture::all_at_cabinet:
        e_.split({{P::cabinet, r1}, {P::cabinet, r2}});
        break;
      case Architecture::count_:
        break;
    }
    direct_ = below(2) == 0;
    for (int n : sizes) e_.add_splitter(n, 10 * std::log10(n) + 1.5, below(2) == 0);
    e_.rules.port_fill = 0.5 + 0.05 * below(11);
    e_.rules.take_up = 0.1 * below(11);
    e_.rules.reserve_all_ports = below(2) == 0;
    e_.rules.patched_cabinet = below(2) == 0;
    e_.rules.fibres_per_dwelling = 1 + below(2);
  }

  // A headend that serves premises itself holds the later stages too.
  int headend_stages() const {
    const int n = static_cast<int>(e_.layout_rules.split.size());
    if (direct_) return n;
    return a_ == Architecture::headend || a_ == Architecture::headend_cabinet ? 1 : 0;
  }

  StationId add_cabinet(StationId from) {
    const bool behind = e_.layout.stations[from].kind == StationKind::cabinet;
    std::pair<int, int> stages{0, 1};
    if (a_ == Architecture::none || a_ == Architecture::branch_point) stages = {0, 0};
    if (a_ == Architecture::headend) stages = {1, 0};
    if (a_ == Architecture::headend_cabinet) stages = {1, 1};
    if (a_ == Architecture::all_at_cabinet) stages = {0, 2};
    if (a_ == Architecture::cabinet_branch || a_ == Architecture::cabinet_building)
      if (behind) stages = {1, 0};  // only splices the second stage's feeds on
    const StationId c = e_.station(StationKind::cabinet, from, stages);
    if (a_ == Architecture::branch_point || a_ == Architecture::cabinet_branch) {
      const int first = a_ == Architecture::cabinet_branch ? 1 : 0;
      for (int b = 1 + below(4); b > 0; --b)
        hang_premises(e_.station(StationKind::branch_point, c, {first, 1}), 8);
    } else {
      hang_premises(c, 40);
    }
    return c;
  }

  void hang_premises(StationId s, int most) {
    for (int n = below(most + 1); n > 0; --n) {
      const int dwellings = below(5) == 0 ? 2 + below(5) : 1;
      const bool building = a_ == Architecture::building || a_ == Architecture::cabinet_building;
      const int last = static_cast<int>(e_.layout_rules.split.size()) - 1;
      const bool headend = e_.layout.stations[s].kind == StationKind::headend;
      const PremisesId p = building && dwellings > 1 && !headend ? e_.building(s, dwellings, {last, 1})
                                                                 : e_.premises(s, dwellings);
      e_.basis.needs[p].reserved = below(6) == 0;
    }
  }

  std::mt19937 random_;
  Architecture a_;
  bool direct_ = false;
  Estate e_ = {};
};

}  // namespace hand_made
