// Typed ids and dense tables over them. An id of premises cannot index spans.
//
//   Table<SpanId, Span> spans;          SpanId s = spans.add({...});     spans[s].length
//   Lists<LinkId, SpanId> routes;       routes.add(row);                 for (SpanId s : routes[link])
//   Texts<PremisesId> names;            names.add("12 Mill Lane");       std::string_view n = names[p];
//
// Ids follow a canonical order (Hilbert order of the position, then name), never file order.
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/check.h"

namespace plan {

template <class Tag>
struct Id {
  static constexpr uint32_t none = UINT32_MAX;
  uint32_t value = none;
  constexpr Id() = default;
  explicit constexpr Id(uint32_t v) : value(v) {}
  explicit constexpr Id(size_t v) : value(static_cast<uint32_t>(v)) {}
  constexpr bool valid() const { return value != none; }
  friend constexpr bool operator==(Id, Id) = default;
  friend constexpr auto operator<=>(Id, Id) = default;
};

// Every id 0 … n-1, for range loops.
template <class I>
class Ids {
 public:
  explicit constexpr Ids(size_t n) : n_(static_cast<uint32_t>(n)) {}
  struct Iterator {
    uint32_t at;
    I operator*() const { return I(at); }
    Iterator& operator++() { return ++at, *this; }
    friend bool operator==(Iterator, Iterator) = default;
  };
  Iterator begin() const { return {0}; }
  Iterator end() const { return {n_}; }

 private:
  uint32_t n_;
};

template <class I, class T>
class Table {
 public:
  Table() = default;
  explicit Table(size_t n, T value = {}) : rows_(n, value) {}
  I add(T row) {
    rows_.push_back(std::move(row));
    return I(rows_.size() - 1);
  }
  void reserve(size_t n) { rows_.reserve(n); }
  void resize(size_t n, T value = {}) { rows_.resize(n, value); }
  size_t size() const { return rows_.size(); }
  bool empty() const { return rows_.empty(); }
  T& operator[](I id) { return rows_[id.value]; }
  const T& operator[](I id) const { return rows_[id.value]; }
  Ids<I> ids() const { return Ids<I>(rows_.size()); }
  auto begin() const { return rows_.begin(); }
  auto end() const { return rows_.end(); }
  auto begin() { return rows_.begin(); }
  auto end() { return rows_.end(); }
  friend bool operator==(const Table&, const Table&) = default;

 private:
  std::vector<T> rows_;
};

// One list of T per id: offsets and values, rows added in id order.
template <class I, class T>
class Lists {
 public:
  I add(std::span<const T> row) {
    values_.insert(values_.end(), row.begin(), row.end());
    ends_.push_back(values_.size());
    return I(ends_.size() - 1);
  }
  std::span<const T> operator[](I id) const {
    const size_t first = id.value == 0 ? 0 : ends_[id.value - 1];
    return std::span<const T>(values_).subspan(first, ends_[id.value] - first);
  }
  size_t size() const { return ends_.size(); }
  size_t values() const { return values_.size(); }
  Ids<I> ids() const { return Ids<I>(ends_.size()); }
  friend bool operator==(const Lists&, const Lists&) = default;

 private:
  std::vector<size_t> ends_;
  std::vector<T> values_;
};

// Texts in one pool.
template <class I>
class Texts {
 public:
  I add(std::string_view text) {
    pool_ += text;
    ends_.push_back(pool_.size());
    return I(ends_.size() - 1);
  }
  std::string_view operator[](I id) const {
    const size_t first = id.value == 0 ? 0 : ends_[id.value - 1];
    return std::string_view(pool_).substr(first, ends_[id.value] - first);
  }
  size_t size() const { return ends_.size(); }
  friend bool operator==(const Texts&, const Texts&) = default;

 private:
  std::vector<size_t> ends_;
  std::string pool_;
};

// What ids count. Estate:
using PremisesId = Id<struct PremisesTag>;
using RouteId = Id<struct RouteTag>;
using HeadendId = Id<struct HeadendTag>;
using SiteId = Id<struct SiteTag>;
using SurfaceId = Id<struct SurfaceTag>;
using CrossingId = Id<struct CrossingTag>;
// Catalogue, in the order of declaration:
using MicroductId = Id<struct MicroductTag>;
using BundleId = Id<struct BundleTag>;
using CableId = Id<struct CableTag>;
using SplitterTypeId = Id<struct SplitterTypeTag>;
using CabinetTypeId = Id<struct CabinetTypeTag>;
using ChamberTypeId = Id<struct ChamberTypeTag>;
// Street graph:
using NodeId = Id<struct NodeTag>;
using SpanId = Id<struct SpanTag>;
// Plan:
using StationId = Id<struct StationTag>;
using LinkId = Id<struct LinkTag>;
using RunId = Id<struct RunTag>;
using SectionId = Id<struct SectionTag>;
using DwellingId = Id<struct DwellingTag>;
using SplitterId = Id<struct SplitterTag>;
using PonId = Id<struct PonTag>;
using ItemId = Id<struct ItemTag>;
using TaskId = Id<struct TaskTag>;
using CrewId = Id<struct CrewTag>;
using DrumId = Id<struct DrumTag>;
using OrderId = Id<struct OrderTag>;

}  // namespace plan
