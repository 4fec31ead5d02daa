#include "record/written_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "base/csv.h"
#include "base/date.h"

namespace plan {
namespace {

// So that sums of a million cells stay whole numbers.
constexpr int64_t largest_number = 1'000'000'000'000, largest_money = 1'000'000'000'000'000;
constexpr size_t shown = 60;  // characters of a field in a message

// "-12.345" with three decimals is -12345; nothing for anything else.
std::optional<int64_t> whole_number(std::string_view text, int decimals, int64_t largest = largest_number) {
  const bool negative = text.starts_with('-');
  if (negative) text.remove_prefix(1);
  int64_t value = 0;
  bool any = false;
  int after = -1;  // digits after the point
  for (const char c : text) {
    if (c == '.' && after < 0 && any && decimals > 0) {
      after = 0;
      continue;
    }
    if (c < '0' || c > '9' || after == decimals || value > largest) return {};
    value = value * 10 + (c - '0');
    any = true;
    if (after >= 0) ++after;
  }
  if (!any || after == 0) return {};
  for (int k = std::max(after, 0); k < decimals && value <= largest; ++k) value *= 10;
  if (value > largest) return {};
  return negative ? -value : value;
}

// A text that was guarded against being taken for a formula.
std::string_view without_guard(std::string_view text) {
  constexpr std::string_view formula = "=+-@\t\r";
  if (text.size() > 1 && text[0] == '\'' && formula.find(text[1]) != std::string_view::npos)
    text.remove_prefix(1);
  return text;
}

}  // namespace

int64_t Words::add(std::string_view text) {
  if (const auto at = known_.find(text); at != known_.end()) return at->second;
  const int64_t word = static_cast<int64_t>(texts_.size());
  known_.emplace(texts_.emplace_back(text), word);
  return word;
}

int64_t Words::find(std::string_view text) const {
  const auto at = known_.find(text);
  return at == known_.end() ? no_word : at->second;
}

std::string_view Words::operator[](int64_t word) const {
  if (word < 0 || static_cast<size_t>(word) >= texts_.size()) return {};
  return texts_[static_cast<size_t>(word)];
}

WrittenTable::WrittenTable(const TableSchema& schema)
    : schema_(&schema), cells_(schema.columns.size()), lists_(schema.columns.size()) {}

class TableReader {
 public:
  TableReader(const TableSchema& schema, Words& words, const TableTell& tell)
      : words_(words), tell_(tell), table_(schema) {}

  WrittenTable read(std::string_view text) {
    CsvReader csv(text);
    if (!header(csv)) return std::move(table_);
    while (csv.next(row_)) add_row();
    if (!csv.fault().empty()) tell_("table-malformed", csv.fault_line(), csv.fault());
    return std::move(table_);
  }

 private:
  const TableSchema& schema() const { return *table_.schema_; }

  bool header(CsvReader& csv) {
    if (!csv.next(row_)) {
      tell_("table-malformed", csv.fault_line(),
            csv.fault().empty() ? "the table has no header" : csv.fault());
      return false;
    }
    const auto columns = schema().columns;
    const bool same = std::equal(row_.begin(), row_.end(), columns.begin(), columns.end(),
                                 [](const CsvField& f, const Column& c) { return f.text == c.name; });
    if (!same) tell_("header-differs", 1, "the columns are not those of this table");
    return same;
  }

  void add_row() {
    const uint32_t line = row_.front().line;
    if (row_.size() != schema().columns.size()) {
      tell_("table-malformed", line,
            fmt::format("{} fields where the header has {}", row_.size(), schema().columns.size()));
      return;
    }
    table_.lines_.push_back(line);
    for (size_t c = 0; c < row_.size(); ++c) {
      const bool well = schema().columns[c].kind == ColumnKind::ids ? add_list(c) : add_cell(c);
      if (!well)
        tell_("field-malformed", line,
              fmt::format("'{}' is no {}", row_[c].text.substr(0, shown), schema().columns[c].name));
    }
  }

  bool add_cell(size_t c) {
    const std::string_view text = row_[c].text;
    const std::optional<int64_t> cell = text.empty() ? no_cell : cell_of(schema().columns[c], text);
    table_.cells_[c].push(cell.value_or(no_cell));
    return cell.has_value();
  }

  std::optional<int64_t> cell_of(const Column& column, std::string_view text) {
    switch (column.kind) {
      case ColumnKind::text:
        return words_.add(without_guard(text));
      case ColumnKind::date: {
        const auto date = parse_date(text);
        return date ? std::optional<int64_t>(date->days) : std::nullopt;
      }
      case ColumnKind::flag: {
        const auto flag = whole_number(text, 0);
        return flag == 0 || flag == 1 ? flag : std::nullopt;
      }
      case ColumnKind::money:
        return whole_number(text, column.decimals, largest_money);
      case ColumnKind::integer:
      case ColumnKind::number:
      case ColumnKind::ids:
        return whole_number(text, column.decimals);
    }
    return {};
  }

  bool add_list(size_t c) {
    CellLists& list = table_.lists_[c];
    std::string_view left = row_[c].text;
    bool well = true;
    while (!left.empty() && well) {
      const size_t end = std::min(left.find(' '), left.size());
      const auto id = whole_number(left.substr(0, end), 0);
      well = id && *id >= 0 && *id < UINT32_MAX;
      if (well) list.push(static_cast<uint32_t>(*id));
      left.remove_prefix(std::min(end + 1, left.size()));
    }
    if (!well) list.drop_row();
    list.end_row();
    return well;
  }

  Words& words_;
  const TableTell& tell_;
  WrittenTable table_;
  std::vector<CsvField> row_;
};

WrittenTable read_table(const TableSchema& schema, std::string_view text, Words& words,
                        const TableTell& tell) {
  return TableReader(schema, words, tell).read(text);
}

}  // namespace plan
