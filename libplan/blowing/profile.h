// The way a unit takes, as the blow screen wants it, read from the finished duct path of a link.
//
// A turn of at least the rule's corner is a bend at the laid corner radius. Where the path leaves one
// run for another (not at an in-line cut) it turns out: a bend of the turn-out radius, of the angle of
// the turn there but at least the rule's corner. Lesser turns are in the tortuosity. Each span climbs
// evenly between the heights of its nodes; where one is not known it is level. What is not laid yet of a drop
// is taken along its spans in the drop microduct.
#pragma once
#include <cstdint>
#include <vector>

#include "blowing/blowing.h"
#include "model/blow.h"

namespace plan {

struct BlowProfile {
  bool complete = false;  // a cable, and a duct path all the way
  CableId cable;
  MicroductId bore;     // the narrowest on the way
  MicroductId weakest;  // the lowest pressure rating on the way
  Length length;
  std::vector<RouteElement> route;  // in the direction of the light, from the station
  friend bool operator==(const BlowProfile&, const BlowProfile&) = default;
};
BlowProfile blow_profile(const BlowingInput& in, LinkId link);

int bends_in(const BlowProfile& profile);
// Equal for equal profiles.
uint64_t signature(const BlowProfile& profile);

}  // namespace plan
