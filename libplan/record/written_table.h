// A written table read back by its schema: typed columns, compact, total on hostile text.
//
//   Words words;                                              // shared: equal texts are equal numbers
//   WrittenTable runs = read_table(table_schema("runs.csv"), text, words, tell);
//   const Cells& length = runs["length"];                     // millimetres: a number's last decimal is 1
//   for (const uint32_t span : runs.list("spans")[row]) …
//
// A cell is one whole number: a number in units of its last printed decimal, money in cents, a date in
// days since 1970-01-01, a text as its number in Words. An empty or malformed field is `no_cell`, and so is
// whatever stands outside a column, so that a chain of ids through a damaged table ends in `no_cell` and
// nowhere else. Faults are told by rule: table-malformed, header-differs, field-malformed.
#pragma once
#include <concepts>
#include <cstdint>
#include <deque>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "record/record.h"

namespace plan {

inline constexpr int64_t no_cell = INT64_MIN;
// For sums: what is not there adds nothing.
constexpr int64_t or_zero(int64_t cell) {
  return cell == no_cell ? 0 : cell;
}

// Texts by number, in the order of first use.
class Words {
 public:
  Words() = default;
  Words(Words&&) = default;
  Words& operator=(Words&&) = default;
  int64_t add(std::string_view text);
  int64_t find(std::string_view text) const;        // no_word where it was never read
  std::string_view operator[](int64_t word) const;  // empty for no_cell
  static constexpr int64_t no_word = -1;            // equals no cell of any table

 private:
  std::deque<std::string> texts_;  // addresses stay
  std::unordered_map<std::string_view, int64_t> known_;
};

class Cells {
 public:
  Cells() = default;
  explicit Cells(size_t n, int64_t value = no_cell) : values_(n, value) {}
  size_t size() const { return values_.size(); }
  template <std::integral I>
  int64_t operator[](I at) const {
    return holds(at) ? values_[static_cast<size_t>(at)] : no_cell;
  }
  void push(int64_t value) { values_.push_back(value); }
  // Neither does anything outside the column.
  template <std::integral I>
  void set(I at, int64_t value) {
    if (holds(at)) values_[static_cast<size_t>(at)] = value;
  }
  template <std::integral I>
  void add(I at, int64_t value) {
    if (holds(at)) values_[static_cast<size_t>(at)] += value;
  }

 private:
  template <std::integral I>
  bool holds(I at) const {
    return std::cmp_greater_equal(at, 0) && std::cmp_less(at, values_.size());
  }
  std::vector<int64_t> values_;
};

// One list of ids a row.
class CellLists {
 public:
  template <std::integral I>
  std::span<const uint32_t> operator[](I at) const {
    if (std::cmp_less(at, 0) || std::cmp_greater_equal(at, ends_.size())) return {};
    const size_t row = static_cast<size_t>(at), first = row == 0 ? 0 : ends_[row - 1];
    return std::span<const uint32_t>(values_).subspan(first, ends_[row] - first);
  }
  void push(uint32_t value) { values_.push_back(value); }
  void end_row() { ends_.push_back(values_.size()); }
  void drop_row() { values_.resize(ends_.empty() ? 0 : ends_.back()); }

 private:
  std::vector<uint32_t> values_;
  std::vector<size_t> ends_;
};

class WrittenTable {
 public:
  WrittenTable() = default;
  explicit WrittenTable(const TableSchema& schema);
  const TableSchema& schema() const { return *schema_; }
  std::string_view file() const { return schema_->file; }
  size_t rows() const { return lines_.size(); }
  // Line of the file in which a row begins; the header is line 1, 0 no row.
  template <std::integral I>
  uint32_t line(I row) const {
    const bool there = std::cmp_greater_equal(row, 0) && std::cmp_less(row, lines_.size());
    return there ? lines_[static_cast<size_t>(row)] : 0;
  }
  const Cells& operator[](std::string_view column) const { return cells_[schema_->column(column)]; }
  const CellLists& list(std::string_view column) const { return lists_[schema_->column(column)]; }

 private:
  friend class TableReader;
  const TableSchema* schema_ = nullptr;
  std::vector<uint32_t> lines_;
  std::vector<Cells> cells_;      // by column; empty where it holds lists
  std::vector<CellLists> lists_;  // by column; empty where it holds cells
};

using TableTell = std::function<void(std::string_view rule, uint32_t line, std::string message)>;
WrittenTable read_table(const TableSchema& schema, std::string_view text, Words& words,
                        const TableTell& tell);

}  // namespace plan
