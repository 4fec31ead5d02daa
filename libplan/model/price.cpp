#include "model/price.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace plan {

namespace {
// Binary fractions (0.4 of 1000, say) must not push a whole number up.
int64_t whole_up(double v) {
  return static_cast<int64_t>(std::ceil(v - 1e-9));
}
}  // namespace

int64_t ports_needed(int64_t homes, double take_up, int split, double utilisation) {
  PLAN_CHECK(split > 0 && utilisation > 0);
  return whole_up(static_cast<double>(homes) * take_up / (split * utilisation));
}

Ports central_ports(int64_t homes, double take_up, int split, double utilisation) {
  return {ports_needed(homes, take_up, split, utilisation), ports_needed(homes, 1, split, utilisation)};
}

Ports fixed_cascade_ports(int64_t homes, int split_total, double utilisation) {
  const int64_t all = ports_needed(homes, 1, split_total, utilisation);
  return {all, all};
}

int64_t fibres_for_building(int64_t dwellings, int64_t per_dwelling, int64_t least) {
  return std::max(least, dwellings * per_dwelling);
}

int64_t spare_of(int64_t need, double share, int64_t least) {
  return std::max(least, whole_up(static_cast<double>(need) * share));
}

UnitPrice price_of_metre(std::span<const UnitPrice> parts) {
  UnitPrice sum;
  for (const UnitPrice p : parts) sum = sum + p;
  return sum;
}

int64_t packs_for(int64_t pieces, int64_t pack) {
  PLAN_CHECK(pack > 0);
  return pieces <= 0 ? 0 : (pieces - 1) / pack + 1;
}

Money shared_over(Money whole, int64_t n) {
  PLAN_CHECK(n > 0);
  const int64_t doubled = 2 * whole.cents + n, divisor = 2 * n;
  const int64_t quotient = doubled / divisor;
  return {doubled % divisor < 0 ? quotient - 1 : quotient};
}

double share_of(Money part, Money whole) {
  return whole.cents == 0 ? 0 : static_cast<double>(part.cents) / static_cast<double>(whole.cents);
}

}  // namespace plan
