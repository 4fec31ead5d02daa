#include "ducts/shelf.h"

#include <algorithm>
#include <cmath>

namespace plan {
namespace {

std::vector<BundleId> thinnest_by_ways(const DuctCatalogue& catalogue, MicroductId microduct, LaidIn place) {
  std::vector<BundleId> found;
  for (BundleId b : catalogue.bundles.ids()) {
    const Bundle& bundle = catalogue.bundles[b];
    if (bundle.microduct == microduct && bundle.ways >= 1 && may_lie(bundle, place)) found.push_back(b);
  }
  std::stable_sort(found.begin(), found.end(), [&](BundleId a, BundleId b) {
    const Bundle &x = catalogue.bundles[a], &y = catalogue.bundles[b];
    return x.ways != y.ways ? x.ways < y.ways : x.od < y.od;
  });
  const auto same_ways = [&](BundleId a, BundleId b) {
    return catalogue.bundles[a].ways == catalogue.bundles[b].ways;
  };
  found.erase(std::unique(found.begin(), found.end(), same_ways), found.end());
  return found;
}

}  // namespace

bool may_lie(const Bundle& bundle, LaidIn place) {
  return place == LaidIn::ground ? bundle.direct_buried : bundle.in_duct;
}

int ways_with_spare(int n, double spare_share) {
  const double wanted = std::ceil(n * (1 + spare_share) - 1e-9);
  return static_cast<int>(std::clamp(wanted, n + 1.0, 1e9));
}

Shelf::Shelf(const DuctCatalogue& catalogue, MicroductId microduct, double spare_share)
    : catalogue_(&catalogue), spare_share_(spare_share) {
  for (const LaidIn place : {LaidIn::ground, LaidIn::existing_duct})
    rows_[static_cast<size_t>(place)].by_ways = thinnest_by_ways(catalogue, microduct, place);
  for (size_t i = 0; i < 2; ++i)
    if (rows_[i].by_ways.empty()) {
      rows_[i].own = false;
      rows_[i].by_ways = rows_[1 - i].by_ways;
    }
  for (Row& r : rows_) {
    if (r.by_ways.empty()) continue;
    const int largest = ways(r.by_ways.back());
    int n = static_cast<int>(largest / (1 + spare_share)) + 1;
    while (n > 1 && ways_with_spare(n, spare_share) > largest) --n;
    r.capacity = n;
  }
}

BundleId Shelf::smallest(int n, LaidIn place) const {
  const std::vector<BundleId>& list = row(place).by_ways;
  const int needed = ways_with_spare(n, spare_share_);
  const auto at =
      std::lower_bound(list.begin(), list.end(), needed, [&](BundleId b, int w) { return ways(b) < w; });
  return at == list.end() ? list.back() : *at;
}

}  // namespace plan
