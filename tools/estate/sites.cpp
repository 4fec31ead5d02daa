#include "estate/sites.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>

#include "base/parallel.h"
#include "base/text.h"
#include "estate/names.h"

namespace withy {
namespace {

// Values of OpenStreetMap's key `building` (wiki.openstreetmap.org, Key:building) that hold no home and no
// business; sorted.
constexpr std::array<std::string_view, 36> outbuildings = {"allotment_house",
                                                           "barn",
                                                           "bridge",
                                                           "bunker",
                                                           "carport",
                                                           "collapsed",
                                                           "construction",
                                                           "container",
                                                           "cowshed",
                                                           "digester",
                                                           "entrance",
                                                           "farm_auxiliary",
                                                           "garage",
                                                           "garages",
                                                           "gazebo",
                                                           "grandstand",
                                                           "greenhouse",
                                                           "hut",
                                                           "no",
                                                           "outbuilding",
                                                           "parking",
                                                           "pavilion",
                                                           "roof",
                                                           "ruins",
                                                           "service",
                                                           "shed",
                                                           "silo",
                                                           "stable",
                                                           "storage_tank",
                                                           "sty",
                                                           "tank",
                                                           "tent",
                                                           "toilets",
                                                           "transformer_tower",
                                                           "wall",
                                                           "water_tower"};

MapPlace place_of(const MapBuilding& building) {
  for (const MapPart& part : building.parts)
    for (const MapPath& ring : part.rings)
      if (!ring.empty()) return ring.front();
  return {};
}

void leave_out(const MapBuilding& building, std::string_view what, std::string detail, MadePremises& out) {
  out.remarks.push_back({RemarkKind::left_out, what, building.id, place_of(building), std::move(detail)});
}

int64_t to_grid(int64_t millimetres) {
  return std::llround(static_cast<double>(millimetres) / 100);
}

// Vector sources repeat polygons; in OpenStreetMap two outlines on one spot are two objects.
void leave_out_duplicates(const Map& map, Footprints& footprints, MadePremises& out) {
  struct Key {
    int64_t x, y, size;
    uint32_t building;
  };
  std::vector<Key> keys;
  for (uint32_t i = 0; i < map.buildings.size(); ++i)
    if (map.buildings[i].id.kind == MapKind::feature && !footprints.left_out[i])
      keys.push_back({to_grid(footprints.centres[i].x), to_grid(footprints.centres[i].y),
                      std::llround(footprints.sizes[i]), i});
  std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
    return std::tie(a.x, a.y, a.size, a.building) < std::tie(b.x, b.y, b.size, b.building);
  });
  for (size_t i = 0, first = 0; i < keys.size(); ++i) {
    const Key &a = keys[first], &b = keys[i];
    if (i == 0 || std::tie(a.x, a.y, a.size) != std::tie(b.x, b.y, b.size)) {
      first = i;
      continue;
    }
    footprints.left_out[b.building] = true;
    ++out.counts.duplicate_buildings;
    leave_out(map.buildings[b.building], "building drawn twice",
              "same as " + id_text(map.buildings[a.building].id), out);
  }
}

// Address points of each building, as ranges of the spots.
struct SpotRange {
  size_t begin = 0, end = 0;
};
std::vector<SpotRange> spots_by_building(const Addresses& addresses, size_t buildings) {
  std::vector<SpotRange> ranges(buildings);
  for (size_t i = 0; i < addresses.spots.size(); ++i) {
    const uint32_t building = addresses.spots[i].building;
    if (building == Spot::none) break;
    if (ranges[building].end == 0) ranges[building].begin = i;
    ranges[building].end = i + 1;
  }
  return ranges;
}

bool stays(const MapBuilding& building, double size, bool has_address, const PremisesRules& rules,
           MadePremises& out) {
  if (has_address || !plan::trimmed(building.number).empty()) return true;
  if (is_outbuilding(building.kind)) {
    ++out.counts.outbuildings;
    leave_out(building, "outbuilding", building.kind, out);
    return false;
  }
  if (size < rules.least_area) {
    ++out.counts.too_small;
    leave_out(building, "building too small", fmt::format("{} m2", plan::fixed(size, 1)), out);
    return false;
  }
  return true;
}

void count_merged(const Map& map, const Addresses& addresses, MadePremises& out) {
  for (const Spot& spot : addresses.spots) {
    if (spot.count < 2) continue;
    out.counts.merged_points += spot.count - 1;
    const MapAddress& first = map.addresses[addresses.order[spot.first]];
    out.remarks.push_back({RemarkKind::repaired, "address points at one position made one", first.id,
                           first.at, fmt::format("{} points", spot.count)});
  }
}

// Near ones near each other, whatever the order of the map.
std::vector<Site> along_curve(const std::vector<Site>& sites, const plan::Run& run) {
  std::vector<std::pair<uint64_t, uint32_t>> order(sites.size());
  std::vector<plan::Point> centres;
  for (const Site& site : sites) centres.push_back(site.centre);
  const plan::Point centre = middle(box_of(centres));
  plan::for_each_chunk(run, sites.size(), 4096, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i)
      order[i] = {curve_place(centres[i], centre), static_cast<uint32_t>(i)};
  });
  std::sort(order.begin(), order.end());
  std::vector<Site> out;
  out.reserve(sites.size());
  for (const auto& [curve, i] : order) out.push_back(sites[i]);
  return out;
}

}  // namespace

bool is_outbuilding(std::string_view kind) {
  return std::binary_search(outbuildings.begin(), outbuildings.end(), kind);
}

Footprints footprints_of(const Map& map, const Plane& plane, MadePremises& out) {
  Footprints footprints;
  const size_t n = map.buildings.size();
  footprints.centres.resize(n), footprints.sizes.resize(n), footprints.left_out.resize(n);
  out.counts.buildings = n;
  for (size_t i = 0; i < n; ++i) {
    footprints.areas.add(map.buildings[i].parts, plane);
    if (footprints.areas.rings(i) == 0) {
      footprints.left_out[i] = true;
      ++out.counts.without_outline;
      leave_out(map.buildings[i], "building without an outline", {}, out);
      continue;
    }
    footprints.centres[i] = centre_of(footprints.areas, i);
    footprints.sizes[i] = outer_size(footprints.areas, i) / 1e6;
  }
  leave_out_duplicates(map, footprints, out);
  return footprints;
}

std::vector<Site> sites_of(const Map& map, const Footprints& footprints, const Addresses& addresses,
                           const PremisesRules& rules, const plan::Run& run, MadePremises& out) {
  std::vector<Site> sites;
  sites.reserve(addresses.spots.size() + map.buildings.size());
  const std::vector<SpotRange> ranges = spots_by_building(addresses, map.buildings.size());
  for (uint32_t i = 0; i < map.buildings.size(); ++i) {
    const MapBuilding& building = map.buildings[i];
    const SpotRange range = ranges[i];
    if (footprints.left_out[i] || !stays(building, footprints.sizes[i], range.end > 0, rules, out)) continue;
    Site site{building.id, place_of(building), footprints.centres[i], i, 0, 0};
    if (range.end > 0) {
      const Spot &first = addresses.spots[range.begin], &last = addresses.spots[range.end - 1];
      site.first = first.first;
      site.count = last.first + last.count - first.first;
    }
    sites.push_back(site);
    out.counts.points_in_buildings += site.count;
    out.counts.addresses += std::max(site.count, 1u);
  }
  out.counts.premises_of_buildings = sites.size();
  for (const Spot& spot : addresses.spots) {
    if (spot.building != Spot::none) continue;
    const MapAddress& first = map.addresses[addresses.order[spot.first]];
    sites.push_back({first.id, first.at, spot.at, Spot::none, spot.first, spot.count});
    out.counts.addresses += spot.count;
  }
  out.counts.premises_of_points = sites.size() - out.counts.premises_of_buildings;
  out.counts.address_points = map.addresses.size();
  count_merged(map, addresses, out);
  return along_curve(sites, run);
}

}  // namespace withy
