// What tags of OpenStreetMap mean for an estate. Keys and values as the project's wiki documents them
// (wiki.openstreetmap.org, pages Key:highway, Key:railway, Key:waterway, Key:layer, Key:addr).
#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "estate/map.h"

namespace withy {

// The tags of one feature; keys occur once.
struct OsmTags {
  std::span<const std::pair<std::string_view, std::string_view>> list;
  // The value, empty where the key is absent.
  std::string_view operator[](std::string_view key) const;
  // The key is there and does not say "no".
  bool says(std::string_view key) const;
};

struct OsmStreet {
  StreetClass street_class;
  bool link;
};
// Nothing for motorways, for what is not built (construction, proposed ...) and what is no way
// (platform, services ...).
std::optional<OsmStreet> street_of(std::string_view highway);

// Motorways; rails in use, trams apart; rivers, canals, streams and coasts; standing water and river
// beds. Not drains and ditches: they are crossed in the open trench.
struct OsmBarrier {
  BarrierKind kind;
  bool area;  // when closed
};
std::optional<OsmBarrier> barrier_of(const OsmTags& tags);

// The key `layer`; where absent 1 for a bridge, -1 for a tunnel. Nothing where it is no whole number from
// -99 to 99.
std::optional<int> level_of(const OsmTags& tags);
// A square drawn by its outline: `area` says so.
bool is_area(const OsmTags& tags);
bool is_bridge(const OsmTags& tags);
bool is_tunnel(const OsmTags& tags);

// The street, else the named place, an address belongs to.
std::string_view address_street(const OsmTags& tags);
// What a building is used for: `building:use`, else the value of the first of amenity, shop, office,
// tourism, leisure.
std::string_view building_use(const OsmTags& tags);

// `value` as UTF-8: bytes that are none become '?'. True in `mended` where there were any.
std::string utf8_text(std::string_view value, bool& mended);

}  // namespace withy
