// One key of the language, and a mapping of keys, as plain data. Built by descriptor.h, walked by the
// reader, the schema, the reference page and the effective scenario.
#pragma once
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <string_view>

#include "scenario/amount.h"
#include "scenario/tree.h"

namespace plan {

// one: a value. list: a list. named: a mapping from name to entry. rows: a list, or the name of a file.
enum class Many : uint8_t { one, list, named, rows };
// What a reference must name.
enum class Refers : uint8_t {
  nothing,
  microducts,
  bundles,
  chambers,
  cabinets,
  cables,
  splitters,
  fibres,
  classes,
  colour_codes,
  surfaces,
  crossings,
  items
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
  void* (*into)(void* object) = nullptr;   // the member, or a new element of it; null: read and dropped
  void (*clear)(void* object) = nullptr;   // of a list
  bool* (*given)(void* object) = nullptr;  // set when the key stands there
  const Mapping* mapping = nullptr;
  std::span<const std::string_view> words = {};
  double least = -std::numeric_limits<double>::infinity(), most = std::numeric_limits<double>::infinity();
  std::string_view fallback = {}, source = {};
  Kind kind = Kind::text;
  Many many = Many::one;
  Refers refers = Refers::nothing;
  Kept kept = Kept::text;
  bool required = false;

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

}  // namespace plan
