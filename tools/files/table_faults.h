// What both kinds of table file refuse, how many faults of one file are told, and how their rows are handed
// over.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/place.h"
#include "scenario/scenario.h"

namespace withy {

// Values of one table: beyond this it is refused before memory runs out (a million premises with eight
// columns are 17 million).
constexpr size_t most_values = 64'000'000;
std::string too_many_values();

// Up to 200 faults of one file.
class TableFaults {
 public:
  explicit TableFaults(std::string file) : file_(std::move(file)) {}
  void add(uint32_t line, uint32_t column, std::string message);
  bool none() const { return list_.empty(); }
  bool full() const { return list_.size() >= most; }
  plan::Diagnostics take() { return std::move(list_); }

 private:
  static constexpr size_t most = 200;
  std::string file_;
  plan::Diagnostics list_;
};

// The rows of one table in one small tree, handed over and forgotten every thousand rows.
class TableBlocks {
 public:
  TableBlocks(const std::string& file, const plan::RowSink& sink);
  plan::Tree& tree() { return tree_; }
  // A finished row. `wanted` is false once the file has a fault: it is forgotten without being read.
  void add(plan::NodeRef row, bool wanted);
  void hand_over();
  bool too_many() const { return before_ + tree_.size() > most_values; }

 private:
  void begin();
  const plan::RowSink& sink_;
  plan::Tree tree_;
  plan::NodeRef list_;
  size_t rows_ = 0, before_ = 0;  // values of the blocks before this one
};

// Empty where `text` is UTF-8 and says something.
plan::Diagnostics refuse_bytes(const std::string& file, std::string_view text);

}  // namespace withy
