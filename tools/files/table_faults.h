// What both kinds of table file refuse, and how many faults of one file are told.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/place.h"

namespace withy {

// Values of one table: beyond this it is refused before memory runs out (a value takes 32 bytes and its
// text; a million premises with eight columns are 17 million).
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

// Empty where `text` is UTF-8 and says something.
plan::Diagnostics refuse_bytes(const std::string& file, std::string_view text);

}  // namespace withy
