#include "model/bend.h"

#include <algorithm>
#include <cmath>

namespace plan {

Length smallest_bend_radius(std::span<const Length> limits) {
  Length most;
  for (const Length r : limits) most = std::max(most, r);
  return most;
}

Length radius_by_diameter(Length outside, double times) {
  return Length::of_micrometres(std::llround(static_cast<double>(outside.micrometres()) * times));
}

BundleRadius bundle_bend_radius(Temperature at_laying, std::span<const BendPoint> points) {
  const BendPoint* colder = nullptr;
  const BendPoint* warmer = nullptr;
  for (const BendPoint& p : points) {
    if (p.at <= at_laying && (!colder || p.at > colder->at)) colder = &p;
    if (p.at >= at_laying && (!warmer || p.at < warmer->at)) warmer = &p;
  }
  if (!colder && !warmer) return {{}, true};
  if (!colder) return {warmer->radius, true};
  if (!warmer) return {colder->radius, true};
  if (colder->at == warmer->at) return {std::max(colder->radius, warmer->radius), false};
  const double share = (at_laying - colder->at) / (warmer->at - colder->at);
  const auto first = static_cast<double>(colder->radius.micrometres());
  const auto last = static_cast<double>(warmer->radius.micrometres());
  return {Length::of_micrometres(std::llround(first + (last - first) * share)), false};
}

}  // namespace plan
