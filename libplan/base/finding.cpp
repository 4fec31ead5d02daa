#include "base/finding.h"

#include <array>

#include "base/check.h"

namespace plan {
namespace {

constexpr std::array<RuleText, static_cast<size_t>(Rule::count_)> rules{{
    {"premises-far-from-street", "lies {actual} m from the nearest route, more than {limit} m", 1},
    {"premises-unreached", "no route leads here from a headend; the nearest reached node is {actual} m away",
     1},
    {"headend-far-from-street", "lies {actual} m from the nearest route, more than {limit} m", 1},
    {"site-far-from-street", "lies {actual} m from the nearest route, more than {limit} m", 1},
    {"no-unit-for-fibres", "needs {actual} fibres, the largest unit that fits its microduct has {limit}", 0},
    {"split-exceeds-class", "the split alone loses {actual} dB, the class allows {limit} dB", 2},
    {"no-bundle-for-microduct", "the catalogue has no bundle of its microduct with {actual} ways", 0},
    {"drop-duct-too-long", "duct path of {actual} m exceeds limit {limit} m", 1},
    {"feeder-duct-too-long", "feeder duct path of {actual} m exceeds limit {limit} m", 1},
    {"no-allowed-site", "no allowed cabinet site within its area", 0},
    {"cabinet-entries-exceeded", "{actual} microduct entries exceed limit {limit}", 0},
    {"cabinet-fibres-exceeded", "{actual} drop fibres exceed limit {limit}", 0},
    {"cabinet-splitters-exceeded", "{actual} splitters exceed limit {limit}", 0},
    {"premises-unserved", "has no cabinet or headend in reach", 0},
    {"bundles-per-span-exceeded", "{actual} bundles exceed limit {limit}", 0},
    {"no-bundle-fits", "needs {actual} ways, the largest bundle that may lie here has {limit}", 0},
    {"existing-duct-full", "fill {actual} of the existing duct exceeds limit {limit}", 2},
    {"fill-high", "fill {actual} is above the usual {limit}", 2, true},
    {"fill-exceeded", "fill {actual} exceeds limit {limit}", 2},
    {"bend-too-tight", "bend radius {actual} m is below the smallest allowed {limit} m", 2},
    {"duct-in-wrong-place", "this duct may not lie here", 0},
    {"cold-laying", "laying at {actual} C is below {limit} C, the coldest with a known bend radius", 0, true},
    {"olt-ports-exceeded", "{actual} OLT ports exceed limit {limit}", 0},
    {"feeder-fibres-exceeded", "{actual} feeder fibres exceed limit {limit}", 0},
    {"splitter-missing", "the catalogue has no splitter 1:{actual}", 0},
    {"trays-exceeded", "{actual} trays exceed limit {limit}", 0},
    {"no-cable-for-fibres", "needs {actual} fibres, the largest cable that fits its microduct has {limit}",
     0},
    {"blow-too-hard", "needs a push of {actual} N, {limit} N are available", 2},
    {"supply-over-rating", "supply {actual} bar exceeds the microduct's rating {limit} bar", 1},
    {"loss-over-class", "planned loss {actual} dB exceeds limit {limit} dB", 2},
    {"loss-under-class", "least loss {actual} dB is below the class minimum {limit} dB", 2},
    {"differential-exceeded", "losses differ by {actual} dB, limit {limit} dB", 2},
    {"reach-exceeded", "{actual} km of glass exceed the reach of {limit} km", 3},
    {"fitting-missing", "the catalogue has no fitting for ODs {actual} and {limit} mm", 1},
    {"price-missing", "has no price", 0},
    {"rate-missing", "has no output rate", 0},
    {"no-crew-for-task", "no crew has the skill", 0},
    {"task-longer-than-shift", "takes {actual} min, a shift has {limit} min", 0},
    {"programme-too-long", "takes {actual} working days, days after the first {limit} have no work orders",
     0},
    {"cut-longer-than-drum", "needs {actual} m in one piece, a drum holds {limit} m", 1},
}};

constexpr std::array<std::string_view, 23> mends{"",
                                                 "add a route",
                                                 "check the position of the premises",
                                                 "more cabinets",
                                                 "allow another site",
                                                 "a larger cabinet",
                                                 "a lower split",
                                                 "a class with more budget",
                                                 "a larger bundle",
                                                 "dig beside the existing duct",
                                                 "a larger microduct",
                                                 "a smaller cable",
                                                 "a wider corner",
                                                 "lay in warmer weather",
                                                 "an intermediate blow point",
                                                 "a lower supply pressure",
                                                 "an attenuator",
                                                 "regroup the dwellings",
                                                 "state a price",
                                                 "state a rate",
                                                 "add a crew with the skill",
                                                 "an in-line joint",
                                                 "a larger headend"};

}  // namespace

const RuleText& rule_text(Rule rule) {
  PLAN_CHECK(rule < Rule::count_);
  return rules[static_cast<size_t>(rule)];
}

std::string_view mend_text(Mend mend) {
  PLAN_CHECK(static_cast<size_t>(mend) < mends.size());
  return mends[static_cast<size_t>(mend)];
}

}  // namespace plan
