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

namespace {

constexpr size_t rows_of_a_block = 1024;
constexpr size_t values_of_a_block = 65'536;

}  // namespace

TableBlocks::TableBlocks(const std::string& file, const plan::RowSink& sink) : sink_(sink) {
  tree_.select_file(tree_.add_file(file, ""));
  begin();
}

void TableBlocks::begin() {
  before_ += tree_.size();
  tree_.forget_nodes();
  list_ = tree_.add(plan::TreeKind::list, "", 1, 1);
  rows_ = 0;
}

void TableBlocks::add(plan::NodeRef row, bool wanted) {
  tree_.append(list_, row);
  ++rows_;
  if (!wanted)
    begin();
  else if (rows_ >= rows_of_a_block || tree_.size() >= values_of_a_block)
    hand_over();
}

void TableBlocks::hand_over() {
  if (rows_ > 0) sink_(tree_, list_);
  begin();
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
