#include "fibre/ordering.h"

#include <algorithm>
#include <numeric>

namespace plan {

Lists<StationId, LinkId> links_by_station(const Layout& layout) {
  std::vector<LinkId> order;
  for (LinkId l : layout.links.ids())
    if (layout.links[l].from.valid()) order.push_back(l);
  std::stable_sort(order.begin(), order.end(),
                   [&](LinkId a, LinkId b) { return layout.links[a].from < layout.links[b].from; });
  Lists<StationId, LinkId> lists;
  auto at = order.begin();
  for (StationId s : layout.stations.ids()) {
    const auto first = at;
    while (at != order.end() && layout.links[*at].from == s) ++at;
    lists.add(std::span<const LinkId>(first, at));
  }
  return lists;
}

void order_splitters(Fibre& fibre) {
  std::vector<uint32_t> order(fibre.splitters.size());
  std::iota(order.begin(), order.end(), 0u);
  const auto key = [&](uint32_t k) {
    const Splitter& s = fibre.splitters[SplitterId(k)];
    return std::pair(s.station, s.stage);
  };
  std::stable_sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) { return key(a) < key(b); });
  std::vector<SplitterId> renamed(order.size());
  Table<SplitterId, Splitter> sorted;
  sorted.reserve(order.size());
  for (uint32_t k : order) renamed[k] = sorted.add(fibre.splitters[SplitterId(k)]);
  for (Splitter& s : sorted)
    if (s.upstream.valid()) s.upstream = renamed[s.upstream.value];
  for (Dwelling& d : fibre.dwellings)
    if (d.splitter.valid()) d.splitter = renamed[d.splitter.value];
  fibre.splitters = std::move(sorted);
}

void hand_down_pons(Fibre& fibre, const std::vector<uint8_t>& day_one) {
  for (Splitter& s : fibre.splitters)
    if (s.upstream.valid()) s.pon = fibre.splitters[s.upstream].pon;
  for (DwellingId d : fibre.dwellings.ids()) {
    Dwelling& dwelling = fibre.dwellings[d];
    if (dwelling.splitter.valid()) dwelling.pon = fibre.splitters[dwelling.splitter].pon;
    if (!dwelling.pon.valid()) continue;
    fibre.pons[dwelling.pon].ultimate += 1;
    fibre.pons[dwelling.pon].day_one += day_one[d.value];
  }
}

}  // namespace plan
