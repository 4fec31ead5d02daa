#include "estate/route_names.h"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>
#include <unordered_set>

namespace withy {
namespace {

constexpr size_t longest_base = 120;  // bytes; the scenario language takes longer names, people do not

// Cut between characters of UTF-8.
std::string shortened(const std::string& name) {
  size_t end = std::min(name.size(), longest_base);
  while (end > 0 && end < name.size() && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
  return name.substr(0, end);
}

}  // namespace

std::string id_text(const MapId& id) {
  static constexpr const char* kinds[] = {"node", "way", "relation", "feature"};
  return fmt::format("{} {}", kinds[static_cast<size_t>(id.kind)], id.number);
}

void name_routes(std::vector<DraftRoute>& routes) {
  std::vector<std::string> bases;
  bases.reserve(routes.size());
  for (const DraftRoute& r : routes) bases.push_back(r.street.empty() ? id_text(r.id) : shortened(r.street));
  std::vector<uint32_t> order(routes.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](uint32_t a, uint32_t b) {
    if (bases[a] != bases[b]) return bases[a] < bases[b];
    return std::lexicographical_compare(routes[a].line.begin(), routes[a].line.end(), routes[b].line.begin(),
                                        routes[b].line.end());
  });
  std::unordered_set<std::string> used;
  for (const std::string& base : bases) used.insert(base);  // no number may make another street's name
  for (size_t i = 0; i < order.size();) {
    size_t end = i;
    while (end < order.size() && bases[order[end]] == bases[order[i]]) ++end;
    int number = 0;
    for (size_t k = i; k < end; ++k) {
      DraftRoute& r = routes[order[k]];
      r.name = bases[order[k]];
      while (end - i > 1 && !used.insert(r.name).second)
        r.name = fmt::format("{} {}", bases[order[k]], ++number);
    }
    i = end;
  }
}

}  // namespace withy
