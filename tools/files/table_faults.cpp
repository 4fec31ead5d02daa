#include "files/table_faults.h"

#include <fmt/core.h>

#include "base/text.h"

namespace withy {

std::string too_many_values() {
  return fmt::format("more than {} values in one table", most_values);
}

void TableFaults::add(uint32_t line, uint32_t column, std::string message) {
  if (full()) return;
  list_.push_back(plan::diagnostic({file_, line, std::max(1u, column)}, std::move(message)));
}

plan::Diagnostics refuse_bytes(const std::string& file, std::string_view text) {
  const std::string_view mark = text.substr(0, 2);
  if (mark == "\xFF\xFE" || mark == "\xFE\xFF")
    return {plan::diagnostic({file, 0, 0}, "file is UTF-16, expected UTF-8")};
  if (const size_t good = plan::utf8_bytes(text); good < text.size())
    return {plan::diagnostic(plan::place_of_byte(file, text, good), "byte that is not UTF-8")};
  if (plan::trimmed(text).empty()) return {plan::diagnostic({file, 0, 0}, "file says nothing")};
  return {};
}

}  // namespace withy
