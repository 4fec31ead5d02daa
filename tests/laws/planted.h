// Faults planted into written tables: one table of a sound plan is changed at a real row, and the plan
// checker has to name the rule that it breaks.
//
//   {"path-broken", "links.csv", [](TableText& t) { drop_id(t.at(t.row("sections", long_list), "sections"),
//   1); }},
#pragma once
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "base/csv.h"
#include "laws/planned.h"
#include "record/record.h"

namespace plan {

// A table as texts by row and column name.
class TableText {
 public:
  TableText(std::string_view file, std::string_view text) : schema_(table_schema(file)) {
    CsvReader csv(text);
    std::vector<CsvField> fields;
    while (csv.next(fields)) {
      std::vector<std::string>& row = rows_.emplace_back();
      for (const CsvField& f : fields) row.emplace_back(f.text);
    }
    REQUIRE(csv.fault().empty());
    REQUIRE(rows_.size() > 1);
  }
  size_t rows() const { return rows_.size() - 1; }
  std::string& at(size_t row, std::string_view column) {
    return rows_.at(row + 1).at(schema_.column(column));
  }
  std::vector<std::string>& header() { return rows_.front(); }
  std::vector<std::string>& whole(size_t row) { return rows_.at(row + 1); }

  using Wanted = std::function<bool(const std::string&)>;
  // The first row from `from` on whose column is wanted; there must be one.
  size_t row(std::string_view column, const Wanted& wanted, size_t from = 0) {
    for (size_t r = from; r < rows(); ++r)
      if (wanted(at(r, column))) return r;
    FAIL("no such row: " << std::string(column));
    return 0;
  }
  size_t row(std::string_view column, std::string_view value, size_t from = 0) {
    return row(
        column, [value](const std::string& text) { return text == value; }, from);
  }
  void drop(size_t row) { rows_.erase(rows_.begin() + static_cast<std::ptrdiff_t>(row) + 1); }
  void repeat(size_t row) {
    rows_.insert(rows_.begin() + static_cast<std::ptrdiff_t>(row) + 1, rows_.at(row + 1));
  }
  void swap(size_t a, size_t b, std::string_view column) { std::swap(at(a, column), at(b, column)); }

  std::string text() const {
    std::string out;
    for (const auto& row : rows_) {
      for (size_t c = 0; c < row.size(); ++c) {
        if (c > 0) out += ',';
        const bool quote = row[c].find_first_of(",\"\r\n") != std::string::npos;
        out += quote ? quoted(row[c]) : row[c];
      }
      out += "\r\n";
    }
    return out;
  }

 private:
  static std::string quoted(const std::string& field) {
    std::string out = "\"";
    for (const char c : field) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + '"';
  }
  const TableSchema& schema_;
  std::vector<std::vector<std::string>> rows_;
};

inline bool filled(const std::string& text) {
  return !text.empty();
}
inline bool empty(const std::string& text) {
  return text.empty();
}
inline bool long_list(const std::string& ids) {
  return std::count(ids.begin(), ids.end(), ' ') >= 2;
}
inline bool longer_list(const std::string& ids) {
  return std::count(ids.begin(), ids.end(), ' ') >= 1;
}

// Number `k` of a list of ids.
inline std::vector<std::string> ids_of(const std::string& list) {
  std::vector<std::string> out;
  for (const std::string_view id : split(list, ' ')) out.emplace_back(id);
  return out;
}
inline std::string list_of(const std::vector<std::string>& ids) {
  std::string out;
  for (const std::string& id : ids) out += (out.empty() ? "" : " ") + id;
  return out;
}
inline void drop_id(std::string& list, size_t k) {
  auto ids = ids_of(list);
  ids.erase(ids.begin() + static_cast<std::ptrdiff_t>(k));
  list = list_of(ids);
}
// A number of the table made larger by `by` in units of its last decimal.
inline void raise(std::string& number, int64_t by = 100) {
  const size_t point = number.find('.');
  const size_t decimals = point == std::string::npos ? 0 : number.size() - point - 1;
  std::string digits = number;
  if (point != std::string::npos) digits.erase(point, 1);
  const bool negative = std::stoll(digits) + by < 0;
  std::string raised = std::to_string(std::abs(std::stoll(digits) + by));
  if (decimals > 0) {
    if (raised.size() <= decimals) raised.insert(0, decimals + 1 - raised.size(), '0');
    raised.insert(raised.size() - decimals, ".");
  }
  number = (negative ? "-" : "") + raised;
}

struct Plant {
  const char* rule;
  const char* file;
  std::function<void(TableText&)> edit;
};

inline bool tells(const AuditFaults& faults, std::string_view rule) {
  return std::any_of(faults.begin(), faults.end(), [&](const AuditFault& f) { return f.rule == rule; });
}

inline const FolderTexts& sound_hamlet() {
  static const FolderTexts folder = written(planned(shipped("hamlet")));
  return folder;
}
// Cabinets, and feeders that pass unsplit through none of them.
inline const FolderTexts& sound_village() {
  static const FolderTexts folder = written(planned(shipped("village")));
  return folder;
}

inline void expect_all_told(const FolderTexts& sound, const std::vector<Plant>& plants) {
  for (const Plant& plant : plants) {
    CAPTURE(plant.rule);
    CAPTURE(plant.file);
    FolderTexts folder = sound;
    TableText table(plant.file, folder.at(plant.file));
    REQUIRE(table.text() == folder.at(plant.file));
    plant.edit(table);
    folder[plant.file] = table.text();
    const AuditFaults faults = audited(folder);
    CHECK_MESSAGE(tells(faults, plant.rule), told(faults));
  }
}

}  // namespace plan
