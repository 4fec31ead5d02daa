#include "record/record.h"

#include <fmt/core.h>

#include <vector>

#include "base/check.h"
#include "record/tables.h"

namespace plan {
namespace {

std::vector<TableSchema> joined() {
  std::vector<TableSchema> all;
  for (const auto group : {estate_tables(), plant_tables(), works_tables()})
    all.insert(all.end(), group.begin(), group.end());
  return all;
}

std::string_view kind_name(ColumnKind kind) {
  switch (kind) {
    case ColumnKind::text:
      return "text";
    case ColumnKind::integer:
      return "whole number";
    case ColumnKind::number:
      return "number";
    case ColumnKind::money:
      return "money";
    case ColumnKind::date:
      return "date";
    case ColumnKind::ids:
      return "list of ids";
    case ColumnKind::flag:
      return "0 or 1";
  }
  return "";
}

}  // namespace

size_t TableSchema::column(std::string_view name) const {
  for (size_t i = 0; i < columns.size(); ++i)
    if (columns[i].name == name) return i;
  broken_invariant(("no column " + std::string(name) + " in " + std::string(file)).c_str(), __FILE__,
                   __LINE__);
}

std::span<const TableSchema> table_schemas() {
  static const std::vector<TableSchema> all = joined();
  return all;
}

const TableSchema& table_schema(std::string_view file) {
  for (const TableSchema& t : table_schemas())
    if (t.file == file) return t;
  broken_invariant(("no table " + std::string(file)).c_str(), __FILE__, __LINE__);
}

std::string outputs_page() {
  std::string page =
      "# What a plan folder holds\n\nPrinted from the record schema; a test compares. Tables are CSV after "
      "RFC 4180. Ids are\n"
      "plain numbers from 0 in the plan's canonical order. An empty field is none or unknown, never 0.\n";
  for (const TableSchema& t : table_schemas()) {
    page +=
        fmt::format("\n## {}\n\n{} (stage `{}`).\n\n| column | kind | unit | meaning |\n|---|---|---|---|\n",
                    t.file, t.meaning, t.stage);
    for (const Column& c : t.columns) {
      const std::string kind = c.kind == ColumnKind::number ? fmt::format("number, {} decimals", c.decimals)
                                                            : std::string(kind_name(c.kind));
      page += fmt::format("| {} | {} | {} | {} |\n", c.name, kind, c.unit, c.meaning);
    }
  }
  return page;
}

}  // namespace plan
