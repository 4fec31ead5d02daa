// A scenario of three doors that plans without a finding, and readers of what the program writes of it.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "laws/planned.h"

namespace plan {

using Names = std::vector<std::string>;

inline constexpr std::string_view row = R"(scenario: Row
start: 2027-03-01
estate:
  premises:
    - {name: 1 Mill Lane, at: [20, 8]}
    - {name: 2 Mill Lane, at: [40, -8], dwellings: 3}
    - {name: 3 Mill Lane, at: [60, 8], connect: on order}
  routes:
    - {name: Mill Lane, line: [[0, 0], [80, 0]], surface: verge}
headends:
  - {name: Exchange, at: [0, -5]}
class: GPON B+
split: [{at: headend, ratio: 1:32}]
)";
inline constexpr std::string_view edits = R"(edits:
  - {name: "1:64", change: {split: [{at: headend, ratio: 1:64}]}}
  - {name: dear verge, hold: quantities, change: {prices: {open verge: {price: 90 EUR/m}}}}
)";

inline std::string row_with(std::string_view more) {
  return std::string(row) + std::string(more);
}

inline std::vector<Names> rows_of(const std::string& text) {
  std::vector<Names> rows;
  CsvReader csv(text);
  std::vector<CsvField> fields;
  while (csv.next(fields)) {
    rows.emplace_back();
    for (const CsvField& f : fields) rows.back().emplace_back(f.text);
  }
  CHECK(csv.fault() == "");
  return rows;
}

// The parts of a plan folder that say nothing of where it was made from.
inline FolderTexts tables(FolderTexts folder) {
  folder.erase("scenario.yaml");
  folder.erase("sources.csv");
  folder.erase("contents.csv");
  return folder;
}

}  // namespace plan
