#include "estate/osm_values.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "base/text.h"

namespace withy {
namespace {

using NamedClass = std::pair<std::string_view, StreetClass>;
constexpr std::array<NamedClass, 16> street_classes{{
    {"trunk", StreetClass::trunk},
    {"primary", StreetClass::primary},
    {"secondary", StreetClass::secondary},
    {"tertiary", StreetClass::tertiary},
    {"unclassified", StreetClass::unclassified},
    {"residential", StreetClass::residential},
    {"living_street", StreetClass::living_street},
    {"pedestrian", StreetClass::pedestrian},
    {"service", StreetClass::service},
    {"road", StreetClass::road},
    {"footway", StreetClass::footway},
    {"path", StreetClass::path},
    {"cycleway", StreetClass::cycleway},
    {"track", StreetClass::track},
    {"bridleway", StreetClass::bridleway},
    {"steps", StreetClass::steps},
}};

template <size_t N>
bool one_of(std::string_view value, const std::array<std::string_view, N>& values) {
  return std::find(values.begin(), values.end(), value) != values.end();
}

constexpr std::array<std::string_view, 7> rails{"rail",      "light_rail", "narrow_gauge", "subway",
                                                "funicular", "monorail",   "preserved"};
constexpr std::array<std::string_view, 4> water_lines{"river", "canal", "stream", "tidal_channel"};
constexpr std::array<std::string_view, 4> with_links{"trunk", "primary", "secondary", "tertiary"};

}  // namespace

std::string_view OsmTags::operator[](std::string_view key) const {
  for (const auto& [k, value] : list)
    if (k == key) return value;
  return {};
}

bool OsmTags::says(std::string_view key) const {
  const std::string_view value = (*this)[key];
  return !value.empty() && value != "no";
}

std::optional<OsmStreet> street_of(std::string_view highway) {
  constexpr std::string_view ending = "_link";
  const bool link = highway.ends_with(ending);
  if (link) highway.remove_suffix(ending.size());
  if (link && !one_of(highway, with_links)) return {};
  for (const auto& [value, street_class] : street_classes)
    if (value == highway) return OsmStreet{street_class, link};
  return {};
}

std::optional<OsmBarrier> barrier_of(const OsmTags& tags) {
  const std::string_view highway = tags["highway"], railway = tags["railway"], waterway = tags["waterway"];
  if (highway == "motorway" || highway == "motorway_link") return OsmBarrier{BarrierKind::motorway, false};
  if (railway == "tram") return OsmBarrier{BarrierKind::tram, false};
  if (one_of(railway, rails)) return OsmBarrier{BarrierKind::rail, false};
  const bool standing = tags["natural"] == "water" || tags["landuse"] == "reservoir";
  if (standing || waterway == "riverbank" || waterway == "dock") return OsmBarrier{BarrierKind::water, true};
  if (one_of(waterway, water_lines) || tags["natural"] == "coastline")
    return OsmBarrier{BarrierKind::water, false};
  return {};
}

std::optional<int> level_of(const OsmTags& tags) {
  std::string_view layer = plan::trimmed(tags["layer"]);
  if (layer.empty()) return is_bridge(tags) ? 1 : is_tunnel(tags) ? -1 : 0;
  if (layer.front() == '+') layer.remove_prefix(1);
  int level = 0;
  const auto [end, error] = std::from_chars(layer.data(), layer.data() + layer.size(), level);
  if (error != std::errc{} || end != layer.data() + layer.size() || level < -99 || level > 99) return {};
  return level;
}

bool is_area(const OsmTags& tags) {
  return tags["area"] == "yes";
}
bool is_bridge(const OsmTags& tags) {
  return tags.says("bridge");
}
bool is_tunnel(const OsmTags& tags) {
  return tags.says("tunnel");
}

std::string_view address_street(const OsmTags& tags) {
  const std::string_view street = tags["addr:street"];
  return street.empty() ? tags["addr:place"] : street;
}

std::string_view building_use(const OsmTags& tags) {
  for (const std::string_view key : {"building:use", "amenity", "shop", "office", "tourism", "leisure"})
    if (const std::string_view value = tags[key]; !value.empty()) return value;
  return {};
}

std::string utf8_text(std::string_view value, bool& mended) {
  std::string text;
  while (!value.empty()) {
    const size_t good = plan::utf8_bytes(value);
    text += value.substr(0, good);
    value.remove_prefix(good);
    if (value.empty()) break;
    text += '?';
    value.remove_prefix(1);
    mended = true;
  }
  return text;
}

}  // namespace withy
