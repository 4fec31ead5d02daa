// What a street class says about the trench along it, and how a map's surfaces are read.
//
// The trench of a centre-line lies in the footway or verge beside the carriageway; of a way that has
// neither (soft ways, service ways, tracks) in the way itself. Common practice, no source. Soft ways are
// priced by their surface, never filtered, unless roads alone are asked for.
#pragma once
#include <string>
#include <string_view>

#include "estate/draft.h"
#include "estate/map.h"

namespace withy {

struct StreetDefault {
  StreetClass street_class;
  std::string_view name;     // as OpenStreetMap's key `highway` writes it
  std::string_view surface;  // of the scenario, where the map states none
  bool drops = true;         // a drop may leave it midway: not a fast road, not a flight of steps
  bool soft = false;         // no carriageway
};
const StreetDefault& street_default(StreetClass c);

// The scenario's surface for what a map states; empty where the word is not known.
std::string_view surface_of(std::string_view stated, StreetClass c);
// Private, forbidden or for some only: permission has to be asked.
bool is_restricted(std::string_view access);

}  // namespace withy
