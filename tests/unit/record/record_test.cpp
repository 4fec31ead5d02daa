// The schema of the written tables, and the page printed from it.
#include <doctest/doctest.h>

#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include "base/check.h"
#include "record/record.h"

using namespace plan;

namespace {

std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("docs/outputs.md is the schema's page; print it with: withy schema --page outputs") {
  CHECK(file_text(WITHY_SOURCE "/docs/outputs.md") == outputs_page());
}

TEST_CASE("tables and their columns have names of their own") {
  std::set<std::string_view> files;
  for (const TableSchema& t : table_schemas()) {
    CHECK(files.insert(t.file).second);
    CHECK(!t.meaning.empty());
    std::set<std::string_view> columns;
    for (const Column& c : t.columns) {
      CHECK_MESSAGE(columns.insert(c.name).second, t.file, " ", c.name);
      CHECK(t.column(c.name) < t.columns.size());
      if (c.kind == ColumnKind::number)
        CHECK_MESSAGE((!c.unit.empty() && c.decimals > 0), t.file, " ", c.name);
    }
  }
}

TEST_CASE("a table or column that no schema knows is a bug") {
  CHECK_THROWS_AS(table_schema("nothing.csv"), BrokenInvariant);
  CHECK_THROWS_AS(table_schema("spans.csv").column("nothing"), BrokenInvariant);
}
