// The schema of every written table, once: column, kind, unit, decimals, meaning, and the stage that
// decides it. Writers, the plan checker, `withy explain` and docs/outputs.md all read it.
//
//   const TableSchema& t = table_schema("premises.csv");
//   for (const Column& c : t.columns) …
//
// Ids in tables are plain numbers, the row's place in the plan's canonical order; 0-based. An empty
// field is "none" or "unknown", never 0. Lists inside a field are separated by single spaces.
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace plan {

enum class ColumnKind : uint8_t { text, integer, number, money, date, ids, flag };

struct Column {
  std::string_view name;
  ColumnKind kind = ColumnKind::text;
  std::string_view unit;  // "m", "dB", "bar gauge"; empty where there is none
  int decimals = 0;       // of a number
  std::string_view meaning;
};

struct TableSchema {
  std::string_view file;
  std::string_view stage;  // the stage that decides its rows
  std::string_view meaning;
  std::span<const Column> columns;
  size_t column(std::string_view name) const;  // check fails for an unknown name
};

std::span<const TableSchema> table_schemas();
const TableSchema& table_schema(std::string_view file);
// docs/outputs.md: every file and column, printed from the above.
std::string outputs_page();

}  // namespace plan
