// How full a bore is, and how thick a bundle gets.
//
//   fill = sum of d^2 / D^2        packing: n equal circles need a bore of R(n) d        bundle: R(n) d + 2 t
//
// R(n), n = 1 … 24, is the best known packing of equal circles in a circle (closed form for 2-9, 11, 13,
// 18, 19, the others re-found numerically to 4e-4). It is a floor: a real lay-up in rings is up to 6 %
// wider, so a catalogue's own outside diameter goes first, `layered_ratio` second, R(n) third.
//
//   double f = area_fill(millimetres(6.1), millimetres(8));                       // 0.5814
//   int bundles = most_in_bore(millimetres(23.4), millimetres(100), 0.55);        // 10
//
// Limits (65 % warn, 75 % fail for jetted cables, 55 % for ducts in a duct, no lower bound for units) are
// rules of the scenario and are passed in.
#pragma once
#include <span>

#include "base/quantity.h"

namespace plan {

// Share of the bore's area that is taken: (d/D)^2, or the sum of it. Infinite for a bore of no width.
double area_fill(Length outside, Length bore);
double area_fill(std::span<const Length> outsides, Length bore);
double diameter_ratio(Length outside, Length bore);
// The widest thing within a limit of area fill: D sqrt(fill), rounded down to a micrometre.
Length widest_within(Length bore, double fill);
// Fill limit of a floor duct, a share lost for each 90 degree bend: base (1 - loss bends), MIL-HDBK-1012/3.
double bent_fill_limit(double base, double loss_per_bend, int bends);

// Tubes in one ring round a core: floor(pi / asin(d/(c + d))); c = 0 or d = 0 gives 0.
int ring_round(Length core, Length tube);
// Diameter of n equal circles laid in full rings round a core of 1-5, in circle diameters; the least of
// the five, and never below R(n).
double layered_ratio(int n);
// R(n); layered above 24, 0 for none.
double packing_ratio(int n);
// Round sheath of wall `sheath` over `ways` tubes; rounded up to a micrometre.
Length bundle_outside(int ways, Length tube, Length sheath);

// Most equal bundles or ducts whose areas stay within the limit and which also pack: R(k) d <= D.
int most_in_bore(Length outside, Length bore, double area_limit);
// Whether given ones go in. Unequal ones are judged as if all were as wide as the widest: safe, not sharp.
bool fits_in_bore(std::span<const Length> outsides, Length bore, double area_limit);

}  // namespace plan
