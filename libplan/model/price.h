// Counts and prices that designers reason with.
//
//   ports, day one = ceil(homes take_up / (split utilisation));  fixed cascade = ceil(homes / (split
//   utilisation)) metre = sum of the prices of all that a metre needs;  packs are rounded up
//
// A cascade whose second stages all stand on day one needs its ports for every home at once; a central
// splitter place grows with take-up. Print both, day one and ultimate. Money stays in whole minor units
// and is rounded once, half up.
#pragma once
#include <cstdint>
#include <span>

#include "base/money.h"

namespace plan {

// Ports of OLTs for splitters at one place; take_up 1 gives the ultimate. Utilisation: share of splitter
// outlets that is ever filled. Split and utilisation above 0.
int64_t ports_needed(int64_t homes, double take_up, int split, double utilisation);
struct Ports {
  int64_t day_one = 0;
  int64_t ultimate = 0;
  friend bool operator==(const Ports&, const Ports&) = default;
};
Ports central_ports(int64_t homes, double take_up, int split, double utilisation);
Ports fixed_cascade_ports(int64_t homes, int split_total, double utilisation);
// Fibres to a building: one (or `per_dwelling`) for each dwelling, and never fewer than `least`.
int64_t fibres_for_building(int64_t dwellings, int64_t per_dwelling, int64_t least);
// Spare on top of a need: ceil(need share), and at least `least`.
int64_t spare_of(int64_t need, double share, int64_t least);

UnitPrice price_of_metre(std::span<const UnitPrice> parts);
// Whole packs that cover `pieces`; pack size at least 1.
int64_t packs_for(int64_t pieces, int64_t pack);
// An amount shared out over n, rounded half up to a minor unit; n at least 1.
Money shared_over(Money whole, int64_t n);
double share_of(Money part, Money whole);  // 0 of nothing

}  // namespace plan
