// The bundles of one microduct, by where they may lie and how many ways they have.
#pragma once
#include <vector>

#include "base/id.h"
#include "scenario/catalogue.h"
#include "scenario/rules.h"

namespace plan {

enum class LaidIn : uint8_t { ground, existing_duct };
bool may_lie(const Bundle& bundle, LaidIn place);

// Ways that n microducts need with their spare share, at least one spare.
int ways_with_spare(int n, double spare_share);

class Shelf {
 public:
  Shelf(const DuctCatalogue& catalogue, MicroductId microduct, double spare_share);
  bool empty() const { return rows_[0].by_ways.empty() && rows_[1].by_ways.empty(); }
  // Whether any bundle may lie there; if not, the other place's bundles are offered.
  bool allows(LaidIn place) const { return rows_[static_cast<size_t>(place)].own; }
  // The smallest bundle that holds n microducts and their spare; the largest where none does.
  BundleId smallest(int n, LaidIn place) const;
  // The bundle of fewest ways, for a drop.
  BundleId single(LaidIn place) const { return row(place).by_ways.front(); }
  // Most microducts that one bundle takes with their spare, at least 1.
  int capacity(LaidIn place) const { return row(place).capacity; }
  int ways(BundleId bundle) const { return catalogue_->bundles[bundle].ways; }

 private:
  struct Row {
    std::vector<BundleId> by_ways;  // one a number of ways: the thinnest
    int capacity = 1;
    bool own = true;
  };
  const Row& row(LaidIn place) const { return rows_[static_cast<size_t>(place)]; }
  const DuctCatalogue* catalogue_;
  double spare_share_;
  Row rows_[2];
};

}  // namespace plan
