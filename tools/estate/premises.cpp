#include "estate/premises.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <string>
#include <tuple>

#include "base/parallel.h"
#include "base/text.h"
#include "estate/addresses.h"
#include "estate/drop_streets.h"
#include "estate/drops.h"
#include "estate/dwellings.h"
#include "estate/names.h"
#include "estate/obstacles.h"
#include "estate/sites.h"

namespace withy {
namespace {

// "2" before "10", "10" before "10a", what begins with no digit last.
std::pair<uint32_t, std::string_view> natural(std::string_view number) {
  number = plan::trimmed(number);
  uint32_t value = UINT32_MAX;
  std::from_chars(number.data(), number.data() + number.size(), value);
  return {value, number};
}

struct Text {
  std::string_view street, number;
};

class Maker {
 public:
  Maker(const Map& map, const Plane& plane, std::span<const DraftRoute> routes, const PremisesRules& rules,
        const plan::Run& run)
      : map_(map),
        routes_(routes),
        rules_(rules),
        run_(run),
        footprints_(footprints_of(map, plane, out_)),
        addresses_(
            addresses_of(map, plane, footprints_.areas, footprints_.left_out, rules.address_reach, run)),
        obstacles_(map, footprints_.areas, footprints_.left_out, plane),
        streets_(routes),
        drops_(streets_, footprints_.areas, obstacles_, rules) {}

  MadePremises make() {
    const std::vector<Site> sites = sites_of(map_, footprints_, addresses_, rules_, run_, out_);
    std::vector<uint32_t> plots(sites.size(), Own::none);
    if (!map_.plots.empty())
      for (size_t i = 0; i < sites.size(); ++i)
        if (const std::optional<uint32_t> plot = obstacles_.plot_at(sites[i].centre)) {
          plots[i] = *plot;
          obstacles_.set_premises(*plot);
        }
    out_.premises.reserve(sites.size());
    constexpr size_t batch = 32768;  // drops are made side by side, what they tell is told in order
    for (size_t first = 0; first < sites.size(); first += batch)
      add_batch(std::span(sites).subspan(first, std::min(batch, sites.size() - first)),
                std::span(plots).subspan(first));
    make_unique(out_.premises, run_);
    return std::move(out_);
  }

 private:
  void add_batch(std::span<const Site> sites, std::span<const uint32_t> plots);
  void describe(const Site& site, const Text& text, DraftPremises& p) const;
  Text text_of(const Site& site) const;
  void house(const Site& site, DraftPremises& p) const;
  void hang(const Site& site, const DropAsk& ask, const std::optional<Drop>& drop, DraftPremises& p);
  void bound(const Drop& drop, uint32_t plot, DraftPremises& p);
  void tell(const Site& site, const Drop& drop, uint32_t street);
  void tell_obstacle(const Site& site, const Obstacle& obstacle);
  void remark(const Site& site, std::string_view what, std::string detail) {
    out_.remarks.push_back({RemarkKind::doubtful, what, site.id, site.place, std::move(detail)});
  }

  const Map& map_;
  std::span<const DraftRoute> routes_;
  const PremisesRules& rules_;
  const plan::Run& run_;
  MadePremises out_;
  Footprints footprints_;
  Addresses addresses_;
  Obstacles obstacles_;
  DropStreets streets_;
  DropMaker drops_;
};

// The building's own words, else those of its least address.
Text Maker::text_of(const Site& site) const {
  Text text;
  if (site.building != Spot::none) {
    const MapBuilding& building = map_.buildings[site.building];
    text = {plan::trimmed(building.street), plan::trimmed(building.number)};
    if (!text.number.empty() && !text.street.empty()) return text;
  }
  const auto key = [&](uint32_t i) {
    const MapAddress& a = map_.addresses[i];
    return std::tuple(plan::trimmed(a.street).empty(), plan::trimmed(a.number).empty(), natural(a.number),
                      std::string_view(a.street));
  };
  uint32_t least = UINT32_MAX;
  for (uint32_t i = site.first; i < site.first + site.count; ++i) {
    const uint32_t address = addresses_.order[i];
    if (least == UINT32_MAX || key(address) < key(least)) least = address;
  }
  if (least == UINT32_MAX) return text;
  const MapAddress& address = map_.addresses[least];
  return {plan::trimmed(address.street), plan::trimmed(address.number)};
}

void Maker::house(const Site& site, DraftPremises& p) const {
  const MapBuilding* building = site.building == Spot::none ? nullptr : &map_.buildings[site.building];
  const double area = building == nullptr ? 0 : footprints_.sizes[site.building];
  const Dwellings dwellings =
      dwellings_of(map_, std::span(addresses_.order).subspan(site.first, site.count), building, area, rules_);
  p.dwellings = dwellings.number;
  p.dwellings_rule = dwellings.rule;
  p.dwellings_known = dwellings.known;
  p.indoor = plan::to_whole_millimetres(rules_.indoor);
  if (p.dwellings <= rules_.most_single_dwellings) return;
  p.building_point = true;
  const std::optional<int> levels = building == nullptr ? std::nullopt : levels_in(building->levels);
  p.riser = levels.value_or(rules_.usual_levels) * plan::to_whole_millimetres(rules_.storey);
}

void Maker::bound(const Drop& drop, uint32_t plot, DraftPremises& p) {
  std::optional<int64_t> mapped;
  if (plot != Own::none) mapped = obstacles_.boundary(drop.from.at, drop.entry, plot);
  p.boundary_known = mapped ? Known::mapped : Known::assumed;
  p.boundary = mapped ? std::min(*mapped, drop.from.length)
                      : std::min(plan::to_whole_millimetres(rules_.boundary_offset), drop.from.length / 2);
  if (mapped) ++out_.counts.boundary_mapped;
}

void Maker::tell_obstacle(const Site& site, const Obstacle& obstacle) {
  const auto what = [&]() -> std::pair<std::string_view, uint64_t*> {
    PremisesCounts& counts = out_.counts;
    switch (obstacle.kind) {
      case ObstacleKind::building:
        return {"drop runs through another building", &counts.through_building};
      case ObstacleKind::plot:
        return {"drop runs across another plot", &counts.through_plot};
      case ObstacleKind::rail:
        return {"drop crosses rail", &counts.across_rail};
      case ObstacleKind::water:
        return {"drop crosses water", &counts.across_water};
      default:
        return {"drop crosses a motorway", &counts.across_motorway};
    }
  }();
  ++*what.second;
  remark(site, what.first, "to " + id_text(site.id) + ", at " + id_text(obstacle.id));
}

void Maker::tell(const Site& site, const Drop& drop, uint32_t street) {
  PremisesCounts& counts = out_.counts;
  if (street != StreetNames::none) {
    const uint32_t nearest = streets_.name_of(drop.nearest.route);
    ++counts.named;
    counts.nearest_is_unnamed += nearest == StreetNames::none;
    counts.nearest_is_other += nearest != StreetNames::none && nearest != street;
  }
  counts.moved_to_own_street += drop.own_street;
  counts.moved_round += drop.moved;
  if (drop.obstacle) tell_obstacle(site, *drop.obstacle);
  if (drop.from.length > plan::to_whole_millimetres(rules_.far)) {
    ++counts.far;
    remark(site, "far from any street",
           fmt::format("drop {} m", plan::fixed(static_cast<double>(drop.from.length) / 1000, 1)));
  }
  const DraftRoute& route = routes_[drop.from.route];
  if (route.restricted) {
    ++counts.on_restricted;
    remark(site, "premises on a restricted way", id_text(route.id));
  }
}

void Maker::hang(const Site& site, const DropAsk& ask, const std::optional<Drop>& drop, DraftPremises& p) {
  out_.counts.multi_dwelling += p.building_point;
  if (!drop) {
    ++out_.counts.without_street;
    remark(site, "no street to leave", {});
    return;
  }
  p.at = drop->entry;
  p.drop_from = drop->drop_from;
  bound(*drop, ask.own.plot, p);
  tell(site, *drop, ask.street);
}

void Maker::add_batch(std::span<const Site> sites, std::span<const uint32_t> plots) {
  const auto each = [&](auto&& work) {
    plan::for_each_chunk(run_, sites.size(), 1024, [&](size_t first, size_t last) {
      for (size_t i = first; i < last; ++i) work(i);
    });
  };
  std::vector<Text> texts(sites.size());
  each([&](size_t i) { texts[i] = text_of(sites[i]); });
  std::vector<DropAsk> asks;
  for (size_t i = 0; i < sites.size(); ++i)
    asks.push_back({sites[i].centre, {sites[i].building, plots[i]}, streets_.name(texts[i].street)});
  std::vector<std::optional<Drop>> drops(sites.size());
  const size_t before = out_.premises.size();
  out_.premises.resize(before + sites.size());
  each([&](size_t i) {
    describe(sites[i], texts[i], out_.premises[before + i]);
    drops[i] = drops_.make(asks[i]);
  });
  for (size_t i = 0; i < sites.size(); ++i) hang(sites[i], asks[i], drops[i], out_.premises[before + i]);
}

void Maker::describe(const Site& site, const Text& text, DraftPremises& p) const {
  p.id = site.id;
  p.centre = p.at = site.centre;
  p.street = text.street;
  p.name = premises_name(text.street, text.number, site.id);
  p.entry_known = site.building == Spot::none ? Known::mapped : Known::assumed;
  house(site, p);
}

}  // namespace

MadePremises make_premises(const Map& map, const Plane& plane, std::span<const DraftRoute> routes,
                           const PremisesRules& rules, const plan::Run& run) {
  return Maker(map, plane, routes, rules, run).make();
}

}  // namespace withy
