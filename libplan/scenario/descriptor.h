// The language, written once: every mapping is a list of fields, every field a key with its kind,
// range, default, one line of text and source. The reader, the schema, the reference page and the
// effective scenario all walk these lists; nothing else knows a key.
//
//   constexpr Field fields[] = {
//       field<&Crew::name>("name", "how the crew is called").needed(),
//       field<&Crew::people>("people", "people in the crew").from(1, 50).otherwise("2"),
//       list<&Crew::skills>("skills", "tasks it can do").needed()};
//   constexpr Mapping crew{"a crew", "...", fields};
//
// A field's kind follows from the type of the member it fills.
#pragma once
#include <limits>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/date.h"
#include "base/id.h"
#include "base/point.h"
#include "base/quantity.h"
#include "scenario/amount.h"
#include "scenario/tree.h"
#include "scenario/words.h"

namespace plan {

// one: a value. list: a list. named: a mapping from name to entry. rows: a list, or the name of a file.
enum class Many : uint8_t { one, list, named, rows };
// What a reference must name.
enum class Refers : uint8_t {
  nothing, microducts, bundles, chambers, cabinets, cables, splitters, fibres, classes, colour_codes, surfaces, items
};
// How a resolved reference is kept.
enum class Kept : uint8_t { text, id, index };

// Where a row or an entry was written; `node` is invalid for rows of tables.
struct Spot {
  NodeRef node;
  uint32_t line = 0, column = 0;
  uint16_t file = 0;  // into Reading::files
};

struct Mapping;
struct Field {
  std::string_view key, doc;
  Kind kind = Kind::text;
  Many many = Many::one;
  void* (*into)(void* object) = nullptr;    // the member, or a new element of it; null: read and dropped
  void (*clear)(void* object) = nullptr;    // of a list
  bool* (*given)(void* object) = nullptr;   // set when the key stands there
  const Mapping* mapping = nullptr;
  std::span<const std::string_view> words = {};
  Refers refers = Refers::nothing;
  Kept kept = Kept::text;
  double least = -std::numeric_limits<double>::infinity(), most = std::numeric_limits<double>::infinity();
  bool required = false;
  std::string_view fallback = {}, source = {};

  constexpr Field from(double a, double b) const {
    Field f = *this;
    f.least = a, f.most = b;
    return f;
  }
  constexpr Field needed() const {
    Field f = *this;
    f.required = true;
    return f;
  }
  constexpr Field otherwise(std::string_view text) const {
    Field f = *this;
    f.fallback = text;
    return f;
  }
  constexpr Field after(std::string_view text) const {  // the source of the shipped value
    Field f = *this;
    f.source = text;
    return f;
  }
  constexpr Field as(Kind k) const {
    Field f = *this;
    f.kind = k;
    return f;
  }
};

struct Mapping {
  std::string_view name, doc;  // "a route"
  std::span<const Field> fields;
  std::string* (*name_into)(void* entry) = nullptr;  // of an entry keyed by its name
  Spot* (*spot)(void* entry) = nullptr;
};

// --- how a field finds its member ---

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
  if constexpr (std::is_enum_v<T>) return Kind::choice;
  else if constexpr (std::is_same_v<T, bool>) return Kind::yes_no;
  else if constexpr (std::is_same_v<T, int>) return Kind::whole;
  else if constexpr (std::is_same_v<T, double>) return Kind::number;
  else if constexpr (std::is_same_v<T, Date>) return Kind::date;
  else if constexpr (std::is_same_v<T, Length>) return Kind::length;
  else if constexpr (std::is_same_v<T, Loss>) return Kind::loss;
  else if constexpr (std::is_same_v<T, Attenuation>) return Kind::attenuation;
  else if constexpr (std::is_same_v<T, Level>) return Kind::level;
  else if constexpr (std::is_same_v<T, Pressure>) return Kind::pressure;
  else if constexpr (std::is_same_v<T, Force>) return Kind::force;
  else if constexpr (std::is_same_v<T, LinearMass>) return Kind::linear_mass;
  else if constexpr (std::is_same_v<T, Stiffness>) return Kind::stiffness;
  else if constexpr (std::is_same_v<T, Temperature>) return Kind::temperature;
  else if constexpr (std::is_same_v<T, Angle>) return Kind::angle;
  else if constexpr (std::is_same_v<T, Speed>) return Kind::speed;
  else if constexpr (std::is_same_v<T, Work>) return Kind::work;
  else if constexpr (std::is_same_v<T, Wavelength>) return Kind::wavelength;
  else if constexpr (std::is_same_v<T, WrittenPrice>) return Kind::price;
  else if constexpr (std::is_same_v<T, WrittenOutput>) return Kind::output;
  else if constexpr (std::is_same_v<T, Point>) return Kind::position;
  else if constexpr (std::is_same_v<T, std::vector<Point>>) return Kind::line;
  else if constexpr (std::is_same_v<T, NodeRef>) return Kind::fragment;
  else {
    static_assert(std::is_same_v<T, std::string>, "no kind for this type");
    return Kind::text;
  }
}

template <class T>
constexpr Field typed(std::string_view key, std::string_view doc) {
  Field f;
  f.key = key;
  f.doc = doc;
  f.kind = kind_of<T>();
  if constexpr (std::is_enum_v<T>) f.words = words_of(T{});
  if constexpr (std::is_same_v<T, Length>) f.least = 0, f.most = 1e6;
  if constexpr (std::is_same_v<T, int>) f.least = 0, f.most = 1e6;
  return f;
}

// --- the four forms ---

template <auto... Path>
constexpr Field field(std::string_view key, std::string_view doc) {
  Field f = typed<Reached<Path...>>(key, doc);
  f.into = reach<Path...>;
  return f;
}
template <auto... Path>
constexpr Field list(std::string_view key, std::string_view doc) {
  Field f = typed<typename Element<Reached<Path...>>::type>(key, doc);
  f.many = Many::list;
  f.into = grown<Path...>;
  f.clear = cleared<Path...>;
  return f;
}
template <class T>
constexpr Kept kept_as() {
  if constexpr (std::is_same_v<T, int>) return Kept::index;
  else if constexpr (std::is_same_v<T, std::string>) return Kept::text;
  else return Kept::id;
}
template <auto... Path>
constexpr Field reference(std::string_view key, Refers to, std::string_view doc) {
  Field f;
  f.key = key, f.doc = doc, f.kind = Kind::reference, f.refers = to;
  f.kept = kept_as<Reached<Path...>>();
  f.into = reach<Path...>;
  return f;
}
template <auto... Path>
constexpr Field references(std::string_view key, Refers to, std::string_view doc) {
  Field f;
  f.key = key, f.doc = doc, f.kind = Kind::reference, f.refers = to, f.many = Many::list;
  f.kept = kept_as<typename Element<Reached<Path...>>::type>();
  f.into = grown<Path...>, f.clear = cleared<Path...>;
  return f;
}
// Keys inside keys: one mapping, a list of them, entries keyed by name, or rows that may stand in a file.
template <auto... Path>
constexpr Field inside(std::string_view key, const Mapping& m, std::string_view doc) {
  Field f;
  f.key = key, f.doc = doc, f.kind = Kind::mapping, f.mapping = &m;
  f.into = reach<Path...>;
  return f;
}
template <auto... Path>
constexpr Field several(std::string_view key, Many many, const Mapping& m, std::string_view doc) {
  Field f;
  f.key = key, f.doc = doc, f.kind = Kind::mapping, f.many = many, f.mapping = &m;
  f.into = grown<Path...>, f.clear = cleared<Path...>;
  return f;
}
// A key that is checked and then dropped: remarks, sources.
constexpr Field remark(std::string_view key, std::string_view doc) {
  Field f;
  f.key = key, f.doc = doc;
  return f;
}
// `offered: no` leaves a catalogue entry out.
constexpr Field offered() {
  Field f;
  f.key = "offered", f.doc = "no leaves this entry out", f.kind = Kind::yes_no, f.fallback = "yes";
  return f;
}

}  // namespace plan
