// Which field of a foreign source says what:
//
//   layers:
//     - layer: logradouro          # of a GeoPackage, or a file's name without endings
//       holds: streets
//       name: NM_VIA
//       class: {field: TIPO, values: {arterial: primary, local: residential}}
//       surface: PAVIMENTO
//     - layer: postes
//       holds: existing ducts
//       bore: {always: 90}
//
// Keys by what a layer holds:
//   streets: name, class, surface, access, level, bridge, tunnel
//   addresses: street, number, unit, address, dwellings
//   buildings: kind, street, number, address, levels, flats, use
//   plots: none
//   barriers: kind (rail, tram, water, motorway), level, bridge, tunnel
//   existing ducts: name, bore (millimetres), state (proven, unproven, blocked), owner, content, hire price
//   nothing: the layer is left out
// Each is the name of a field, or a mapping of `field`, `values` (a table of its values) and `always` (what
// holds where the field says nothing). Layers that are not named are left out with a remark.
#pragma once
#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace withy {

enum class Holds : uint8_t { by_geometry, streets, addresses, buildings, plots, barriers, ducts, nothing };
enum class Role : uint8_t {
  name,
  street_class,
  surface,
  access,
  level,
  bridge,
  tunnel,
  street,
  number,
  unit,
  address,
  dwellings,
  kind,
  levels,
  flats,
  use,
  bore,
  state,
  owner,
  content,
  hire_price
};
inline constexpr size_t role_count = static_cast<size_t>(Role::hire_price) + 1;

struct RoleRule {
  std::vector<std::string> fields;  // the first that is not empty counts; any case of letters
  std::map<std::string, std::string> values;
  std::string always;
  std::optional<plan::Diagnostic> missing;  // what to say where the layer has none of the fields
};
struct LayerRule {
  std::string layer;
  Holds holds = Holds::by_geometry;
  std::array<RoleRule, role_count> roles;
};

// The rules of a mapping file, faults with file:line:column.
plan::Result<std::vector<LayerRule>> read_mapping(const std::string& path, std::string text);
// For a source without a mapping file.
LayerRule default_rule();

}  // namespace withy
