// The words of the language for each choice, in the order of its enumerators.
#pragma once
#include <array>
#include <span>
#include <string_view>

#include "base/date.h"
#include "scenario/catalogue.h"
#include "scenario/demand.h"
#include "scenario/rules.h"
#include "scenario/scenario.h"
#include "scenario/works.h"

namespace plan {

enum class Coordinates : uint8_t { metres, longitude_latitude };
enum class RouteKind : uint8_t { trench, existing_duct, aerial };

inline constexpr std::array<std::string_view, 2> coordinates_words{"metres", "longitude latitude"};
inline constexpr std::array<std::string_view, 3> route_kind_words{"trench", "existing duct", "aerial"};
inline constexpr std::array<std::string_view, 3> duct_state_words{"proven", "unproven", "blocked"};
inline constexpr std::array<std::string_view, 3> connect_words{"at build", "on order", "never"};
inline constexpr std::array<std::string_view, 3> drop_laid_words{"to door", "to boundary", "none"};
inline constexpr std::array<std::string_view, 3> confidence_words{"assumed", "mapped", "surveyed"};
inline constexpr std::array<std::string_view, 6> fitting_kind_words{
    "straight connector", "reducing connector", "end stop",
    "block connector",    "entry seal",         "branch closure"};
inline constexpr std::array<std::string_view, 3> cabinet_kind_words{"street cabinet", "chamber closure",
                                                                    "wall box"};
inline constexpr std::array<std::string_view, 3> cable_class_words{"fibre unit", "mini cable", "microcable"};
inline constexpr std::array<std::string_view, 4> splitter_place_words{"headend", "cabinet", "branch point",
                                                                      "building"};
inline constexpr std::array<std::string_view, 4> hold_words{"nothing", "layout", "ducts", "quantities"};
inline constexpr std::array<std::string_view, 11> task_words{
    "dig", "lay", "chamber", "cabinet", "couple", "prove", "blow", "splice", "test", "reinstate", "connect"};
inline constexpr std::array<std::string_view, 7> weekday_words{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                               "Friday", "Saturday", "Sunday"};

using Words = std::span<const std::string_view>;
constexpr Words words_of(Coordinates) {
  return coordinates_words;
}
constexpr Words words_of(DuctState) {
  return duct_state_words;
}
constexpr Words words_of(RouteKind) {
  return route_kind_words;
}
constexpr Words words_of(Connect) {
  return connect_words;
}
constexpr Words words_of(DropLaid) {
  return drop_laid_words;
}
constexpr Words words_of(Confidence) {
  return confidence_words;
}
constexpr Words words_of(FittingKind) {
  return fitting_kind_words;
}
constexpr Words words_of(CabinetKind) {
  return cabinet_kind_words;
}
constexpr Words words_of(CableClass) {
  return cable_class_words;
}
constexpr Words words_of(SplitterPlace) {
  return splitter_place_words;
}
constexpr Words words_of(Hold) {
  return hold_words;
}
constexpr Words words_of(TaskKind) {
  return task_words;
}
constexpr Words words_of(Weekday) {
  return weekday_words;
}

}  // namespace plan
