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
#include "scenario/field.h"
#include "scenario/member.h"
#include "scenario/words.h"

namespace plan {

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
  if constexpr (std::is_same_v<T, int>)
    return Kept::index;
  else if constexpr (std::is_same_v<T, std::string>)
    return Kept::text;
  else
    return Kept::id;
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
