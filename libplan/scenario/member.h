// How a field reaches the member it fills, and what kind of value the member's type asks for. A path of
// members goes through nested structs: reach<&PremisesRow::premises, &Premises::at>(row).
#pragma once
#include <type_traits>
#include <vector>

#include "base/date.h"
#include "base/id.h"
#include "base/point.h"
#include "base/quantity.h"
#include "scenario/demand.h"
#include "scenario/field.h"

namespace plan {

template <class C, class M>
C owner(M C::*);
template <class C, class M>
M member_type(M C::*);

template <auto First, auto... Rest>
constexpr auto last_of() {
  if constexpr (sizeof...(Rest) == 0) {
    return First;
  } else {
    return last_of<Rest...>();
  }
}
template <auto... Path>
using Reached = decltype(member_type(last_of<Path...>()));

template <auto First, auto... Rest>
void* reach(void* object) {
  auto& m = static_cast<decltype(owner(First))*>(object)->*First;
  if constexpr (sizeof...(Rest) == 0) {
    return &m;
  } else {
    return reach<Rest...>(&m);
  }
}

template <class T>
struct Element;
template <class T>
struct Element<std::vector<T>> {
  using type = T;
  static void* grow(std::vector<T>& v) { return v.emplace_back(), &v.back(); }
  static void clear(std::vector<T>& v) { v.clear(); }
};
template <class I, class T>
struct Element<Table<I, T>> {
  using type = T;
  static void* grow(Table<I, T>& t) { return &t[t.add(T{})]; }
  static void clear(Table<I, T>& t) { t = {}; }
};
template <auto... Path>
void* grown(void* object) {
  using C = Reached<Path...>;
  return Element<C>::grow(*static_cast<C*>(reach<Path...>(object)));
}
template <auto... Path>
void cleared(void* object) {
  using C = Reached<Path...>;
  Element<C>::clear(*static_cast<C*>(reach<Path...>(object)));
}
template <auto... Path>
bool* flag(void* object) {
  return static_cast<bool*>(reach<Path...>(object));
}
template <auto... Path>
std::string* text_of(void* object) {
  return static_cast<std::string*>(reach<Path...>(object));
}
template <auto... Path>
Spot* spot_of(void* object) {
  return static_cast<Spot*>(reach<Path...>(object));
}

template <class T>
constexpr Kind kind_of() {
  if constexpr (std::is_enum_v<T>)
    return Kind::choice;
  else if constexpr (std::is_same_v<T, bool>)
    return Kind::yes_no;
  else if constexpr (std::is_same_v<T, int>)
    return Kind::whole;
  else if constexpr (std::is_same_v<T, double>)
    return Kind::number;
  else if constexpr (std::is_same_v<T, Date>)
    return Kind::date;
  else if constexpr (std::is_same_v<T, Length>)
    return Kind::length;
  else if constexpr (std::is_same_v<T, Loss>)
    return Kind::loss;
  else if constexpr (std::is_same_v<T, Attenuation>)
    return Kind::attenuation;
  else if constexpr (std::is_same_v<T, Level>)
    return Kind::level;
  else if constexpr (std::is_same_v<T, Pressure>)
    return Kind::pressure;
  else if constexpr (std::is_same_v<T, Force>)
    return Kind::force;
  else if constexpr (std::is_same_v<T, LinearMass>)
    return Kind::linear_mass;
  else if constexpr (std::is_same_v<T, Stiffness>)
    return Kind::stiffness;
  else if constexpr (std::is_same_v<T, Temperature>)
    return Kind::temperature;
  else if constexpr (std::is_same_v<T, Angle>)
    return Kind::angle;
  else if constexpr (std::is_same_v<T, Speed>)
    return Kind::speed;
  else if constexpr (std::is_same_v<T, Work>)
    return Kind::work;
  else if constexpr (std::is_same_v<T, Wavelength>)
    return Kind::wavelength;
  else if constexpr (std::is_same_v<T, WrittenPrice>)
    return Kind::price;
  else if constexpr (std::is_same_v<T, WrittenOutput>)
    return Kind::output;
  else if constexpr (std::is_same_v<T, Point>)
    return Kind::position;
  else if constexpr (std::is_same_v<T, Route>)
    return Kind::line;  // its line and heights
  else if constexpr (std::is_same_v<T, NodeRef>)
    return Kind::fragment;
  else {
    static_assert(std::is_same_v<T, std::string>, "no kind for this type");
    return Kind::text;
  }
}

}  // namespace plan
