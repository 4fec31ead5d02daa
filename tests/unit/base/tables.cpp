#include <doctest/doctest.h>

#include <array>
#include <atomic>
#include <numeric>
#include <stdexcept>
#include <string>
#include <type_traits>
#include <vector>

#include "base/csv.h"
#include "base/id.h"
#include "base/parallel.h"
#include "base/result.h"

using namespace plan;

static_assert(!std::is_convertible_v<PremisesId, SpanId> && !std::is_convertible_v<int, SpanId>);

TEST_CASE("a table is indexed by its own id") {
  Table<SpanId, int> t;
  CHECK(t.empty());
  const SpanId a = t.add(7), b = t.add(8);
  CHECK(t[a] + t[b] == 15);
  t[a] = 1;
  int sum = 0;
  for (const SpanId s : t.ids()) sum += t[s];
  CHECK(sum == 9);
  CHECK(SpanId{}.valid() == false);
  CHECK(a < b);
  CHECK(Table<SpanId, int>(3, 5).size() == 3);
  Table<SpanId, int> same;
  same.add(1), same.add(8);
  CHECK(same == t);
}

TEST_CASE("lists and texts by id, empty rows among them") {
  Lists<LinkId, SpanId> lists;
  const std::array first{SpanId(3u), SpanId(1u)};
  lists.add(first);
  lists.add({});
  const LinkId last = lists.add(std::vector<SpanId>{SpanId(2u)});
  CHECK(lists.size() == 3);
  CHECK(lists.values() == 3);
  CHECK(lists[LinkId(0u)].size() == 2);
  CHECK(lists[LinkId(0u)][1] == SpanId(1u));
  CHECK(lists[LinkId(1u)].empty());
  CHECK(lists[last][0] == SpanId(2u));

  Texts<PremisesId> names;
  names.add("12 Mill Lane");
  names.add("");
  names.add("14 Mill Lane");
  CHECK(names[PremisesId(0u)] == "12 Mill Lane");
  CHECK(names[PremisesId(1u)].empty());
  CHECK(names[PremisesId(2u)] == "14 Mill Lane");
}

TEST_CASE("a result holds a value or its diagnostics") {
  const Result<int> fine = good(4);
  CHECK(fine);
  CHECK(*fine == 4);
  const Result<int> bad{{}, {{{"a.yaml", 1, 1}, "not a number", "", 1}}};
  CHECK_FALSE(bad);
  CHECK(bad.diagnostics.size() == 1);
}

TEST_CASE("chunks: every index once, the same with any number of threads") {
  for (const int threads : {1, 2, 3, 16})
    for (const size_t n : {size_t{0}, size_t{1}, size_t{99}, size_t{100}, size_t{1001}}) {
      std::vector<std::atomic<int>> seen(n);
      for_each_chunk({threads, {}}, n, 100, [&](size_t first, size_t last) {
        CHECK(last - first <= 100);
        for (size_t i = first; i < last; ++i) ++seen[i];
      });
      for (const auto& s : seen) CHECK(s == 1);
    }
}

TEST_CASE("the fault of the first chunk in order is the one thrown") {
  for (const int threads : {1, 4}) {
    std::string caught;
    try {
      for_each_chunk({threads, {}}, 1000, 10, [](size_t first, size_t) {
        if (first >= 300) throw std::runtime_error(std::to_string(first));
      });
    } catch (const std::runtime_error& e) {
      caught = e.what();
    }
    CHECK(caught == "300");
  }
}

TEST_CASE("a broken invariant says where") {
  const auto broken = [](int v) { PLAN_CHECK(v == 2); };
  CHECK_NOTHROW(broken(2));
  CHECK_THROWS_AS(broken(3), BrokenInvariant);
}

TEST_CASE("RFC 4180 tables are read with places") {
  CsvReader reader("\xEF\xBB\xBFname,note\r\n\"a, b\",\"say \"\"hi\"\"\"\r\n\xC3\xA4,\n\"two\nlines\",x,");
  std::vector<CsvField> row;
  REQUIRE(reader.next(row));
  CHECK(row.size() == 2);
  CHECK(row[1].column == 6);
  REQUIRE(reader.next(row));
  CHECK(row[0].text == "a, b");
  CHECK(row[1].text == "say \"hi\"");
  CHECK(row[1].line == 2);
  CHECK(row[1].column == 8);
  REQUIRE(reader.next(row));
  CHECK(row.size() == 2);
  CHECK(row[1].text.empty());
  CHECK(row[1].column == 3);  // one character, two bytes
  REQUIRE(reader.next(row));
  CHECK(row[0].text == "two\nlines");
  CHECK(row[1].line == 5);
  CHECK(row.size() == 3);
  CHECK_FALSE(reader.next(row));
  CHECK(reader.fault().empty());

  CsvReader open("a,\"never closed\nx");
  CHECK_FALSE(open.next(row));
  CHECK(open.fault() == "quoted field is not closed");
  CHECK(open.fault_line() == 1);
  CHECK(open.fault_column() == 3);
  CsvReader after("\"a\"b,c");
  CHECK_FALSE(after.next(row));
  CHECK(after.fault() == "text after a closing quote");
}

TEST_CASE("written tables are quoted and guarded, and read back") {
  std::string out;
  {
    CsvWriter w([&](std::string_view block) { out += block; });
    w.text("a, \"b\"").integer(-5).number(-0.001, 2).raw("").end_row();
    w.text("=1+1").text("-x").text("plain").end_row();
  }
  CHECK(out == "\"a, \"\"b\"\"\",-5,0.00,\r\n'=1+1,'-x,plain\r\n");
  CsvReader reader(out);
  std::vector<CsvField> row;
  REQUIRE(reader.next(row));
  CHECK(row[0].text == "a, \"b\"");
  CHECK(row[1].text == "-5");
  CHECK(row.size() == 4);
}
