// Random street trees: whatever the map, the duct plan is sound.
#include <doctest/doctest.h>

#include <random>

#include "unit/ducts/checker.h"
#include "unit/ducts/drawn_plan.h"

namespace plan {
namespace {

class Invented {
 public:
  explicit Invented(uint32_t seed) : random_(seed) {
    streets();
    stations();
    houses();
    d.rules.spare_share = 0.05 * below(10);
    d.rules.taper_below = 0.1 * below(10);
    const Length drum = metres(60 + below(400));
    for (Bundle& b : d.catalogue.bundles) b.drum = drum;
  }
  DrawnPlan d;

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<uint32_t>(n)); }
  NodeId any_node() { return nodes_[static_cast<size_t>(below(static_cast<int>(nodes_.size())))]; }

  // A random tree; one span in eight is an existing duct, and some trees are near to stars.
  void streets() {
    const int n = 4 + below(60), near = 1 + below(n);
    nodes_.push_back(d.node(0, 0));
    for (int i = 1; i < n; ++i) {
      const NodeId from = nodes_[static_cast<size_t>(std::max(0, i - 1 - below(near)))];
      const Point p = d.network.at[from];
      const double x = static_cast<double>(p.x) / 1000 + 1 + below(40);
      const double y = static_cast<double>(p.y) / 1000 + below(80) - 40;
      nodes_.push_back(d.node(x, y));
      if (below(8) == 0)
        d.duct(from, nodes_.back(), millimetres(30 + below(80)), 0.25 * (1 + below(4)));
      else if (below(2) == 0)
        d.span(from, nodes_.back());
      else
        d.span(nodes_.back(), from);
    }
  }
  void stations() {
    stations_.push_back(d.station(any_node(), StationKind::headend));
    for (int i = below(4); i > 0; --i) {
      stations_.push_back(d.station(any_node()));
      d.feed(stations_[0], stations_.back());
    }
  }
  void houses() {
    for (int i = 1 + below(80); i > 0; --i) {
      const NodeId street = any_node();
      const Point p = d.network.at[street];
      const double x = static_cast<double>(p.x) / 1000 + 2,
                   y = static_cast<double>(p.y) / 1000 + 3 + below(20);
      const PremisesId house =
          below(5) > 0 ? d.premises(street, x, y)
                       : d.on_order(street, x, y, static_cast<DropLaid>(below(3)), metres(below(10)));
      d.serve(stations_[static_cast<size_t>(below(static_cast<int>(stations_.size())))], house);
    }
  }

  std::mt19937 random_;
  std::vector<NodeId> nodes_;
  std::vector<StationId> stations_;
};

TEST_CASE("random trees are planned without a fault") {
  size_t cuts = 0, tapers = 0;
  for (uint32_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Invented invented(seed);
    const DuctInput in = invented.d.input();
    const Ducts ducts = make_ducts(in, {});
    for (const std::string& fault : faults_of(in, ducts)) FAIL_CHECK(fault);
    CHECK(make_ducts(in, {}) == ducts);
    for (const Joint& j : ducts.joints) {
      if (!j.b.valid() || ducts.runs[ducts.sections[j.b].run].role == DuctRole::drop) continue;
      const bool same =
          ducts.runs[ducts.sections[j.a].run].bundle == ducts.runs[ducts.sections[j.b].run].bundle;
      (same ? cuts : tapers) += 1;
    }
  }
  CHECK(cuts > 500);  // the maps do reach the hard cases
  CHECK(tapers > 500);
}

// The checker itself: it must see what it is there to see.
TEST_CASE("the checker sees planted faults") {
  Invented invented(7);
  const DuctInput in = invented.d.input();
  const Ducts sound = make_ducts(in, {});
  REQUIRE(faults_of(in, sound).empty());
  const auto broken = [&](auto change) {
    Ducts ducts = sound;
    change(ducts);
    return !faults_of(in, ducts).empty();
  };
  CHECK(broken([](Ducts& d) { d.joints.pop_back(); }));
  CHECK(broken([](Ducts& d) { d.sections[SectionId(0u)].length += metres(1); }));
  CHECK(broken([](Ducts& d) { d.sections[SectionId(0u)].position = 99; }));
  CHECK(broken([](Ducts& d) { d.runs[RunId(0u)].length += metres(1); }));
  CHECK(broken([](Ducts& d) { d.branch_points.pop_back(); }));
  CHECK(broken([](Ducts& d) {
    for (Section& s : d.sections)
      if (s.state == SectionState::dead) s.state = SectionState::used;
  }));
}

}  // namespace
}  // namespace plan
