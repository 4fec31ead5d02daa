// What a street class says about the trench along it, and how a map's words are read: data/streets.yaml,
// which states its sources.
//
//   const StreetTable table = street_table();
//   table[StreetClass::track].surface                  // "unpaved track"
//   table.surface_of("asphalt", StreetClass::track)    // "paved footway"
//
// Soft ways are priced by their surface, never filtered, unless roads alone are asked for.
#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "estate/draft.h"
#include "estate/map.h"

namespace withy {

struct StreetDefault {
  std::string surface;  // of the scenario, where the map states none
  bool drops = true;    // a drop may leave it midway
  bool soft = false;    // no carriageway
};

struct StreetTable {
  std::array<StreetDefault, static_cast<size_t>(StreetClass::unstated) + 1> classes;
  std::vector<std::string> paved, unpaved, green, restricted;  // words of maps

  const StreetDefault& operator[](StreetClass c) const { return classes[static_cast<size_t>(c)]; }
  // The scenario's surface for what a map states; empty where the word is not known.
  std::string_view surface_of(std::string_view stated, StreetClass c) const;
  // Private, forbidden or for some only: permission has to be asked.
  bool is_restricted(std::string_view access) const;
};
StreetTable street_table();

// As data/streets.yaml and OpenStreetMap's key `highway` write it.
std::string_view class_name(StreetClass c);

}  // namespace withy
