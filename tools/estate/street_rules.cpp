#include "estate/street_rules.h"

#include <algorithm>
#include <array>

namespace withy {
namespace {

using enum StreetClass;

constexpr std::array<StreetDefault, 17> defaults{{
    {trunk, "trunk", "verge", false, false},
    {primary, "primary", "paved footway"},
    {secondary, "secondary", "paved footway"},
    {tertiary, "tertiary", "paved footway"},
    {unclassified, "unclassified", "verge"},
    {residential, "residential", "paved footway"},
    {living_street, "living_street", "paved carriageway"},
    {pedestrian, "pedestrian", "paved footway"},
    {service, "service", "paved carriageway"},
    {road, "road", "paved footway"},
    {footway, "footway", "paved footway", true, true},
    {path, "path", "unpaved track", true, true},
    {cycleway, "cycleway", "paved footway", true, true},
    {track, "track", "unpaved track", true, true},
    {bridleway, "bridleway", "unpaved track", true, true},
    {steps, "steps", "paved footway", false, true},
    {unstated, "unstated", "paved footway"},
}};

constexpr std::array<std::string_view, 12> paved{
    "asphalt", "paved", "concrete", "concrete:plates", "concrete:lanes", "paving_stones",
    "sett",    "metal", "wood",     "cobblestone",     "pebblestone",    "unhewn_cobblestone"};
constexpr std::array<std::string_view, 10> unpaved{
    "unpaved", "gravel", "compacted", "fine_gravel", "ground", "dirt", "earth", "sand", "mud", "woodchips"};
constexpr std::array<std::string_view, 2> green{"grass", "grass_paver"};
constexpr std::array<std::string_view, 6> restrictions{"private",  "no",       "customers",
                                                       "delivery", "military", "permit"};

template <class Words>
bool holds(const Words& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

const StreetDefault& street_default(StreetClass c) {
  return defaults[static_cast<size_t>(c)];
}

std::string_view surface_of(std::string_view stated, StreetClass c) {
  if (holds(unpaved, stated)) return "unpaved track";
  if (holds(green, stated)) return "verge";
  if (!holds(paved, stated)) return "";
  const std::string_view usual = street_default(c).surface;
  return usual == "unpaved track" ? "paved footway" : usual;
}

bool is_restricted(std::string_view access) {
  return holds(restrictions, access);
}

}  // namespace withy
