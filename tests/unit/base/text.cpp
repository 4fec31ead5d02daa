#include "base/text.h"

#include <doctest/doctest.h>

#include <array>
#include <cstdlib>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

#include "base/finding.h"
#include "base/place.h"

using namespace plan;

TEST_CASE("numbers as text") {
  CHECK(fixed(3.14159, 2) == "3.14");
  CHECK(fixed(-0.001, 2) == "0.00");
  CHECK(fixed(-0.006, 2) == "-0.01");
  CHECK(fixed(1234567, 0) == "1234567");
  CHECK(shortest(0.1) == "0.1");
  for (const double v : {1.0 / 3, 1e-300, 6.02214076e23, -17.25})
    CHECK(std::strtod(shortest(v).c_str(), nullptr) == v);
  CHECK(amount(Money{123450}) == "1234.50");
  CHECK(amount(Money{-5}) == "-0.05");
  CHECK(amount({}) == "0.00");
}

TEST_CASE("metres, rounded half away from zero") {
  CHECK(metres_text(metres(12.5), 1) == "12.5");
  CHECK(metres_text(metres(12.25), 1) == "12.3");
  CHECK(metres_text(metres(-12.25), 1) == "-12.3");
  CHECK(metres_text(metres(12.249), 1) == "12.2");
  CHECK(metres_text(metres(0.5), 0) == "1");
  CHECK(metres_text(metres(0.004), 2) == "0.00");
  CHECK(metres_text(metres(-0.004), 2) == "0.00");
  CHECK(metres_text(metres(1.005), 3) == "1.005");
  CHECK(metres_text(metres(9.999), 1) == "10.0");
}

TEST_CASE("the nearest name, if one is meant") {
  constexpr std::array<std::string_view, 4> keys{"surface", "service", "length", "id"};
  CHECK(nearest_name("surfce", keys) == "surface");
  CHECK(nearest_name("lenght", keys) == "length");
  CHECK(nearest_name("ids", keys) == "id");
  CHECK_FALSE(nearest_name("cabinet", keys).has_value());
  CHECK_FALSE(nearest_name("", keys).has_value());
  CHECK_FALSE(nearest_name(std::string(100000, 'x'), keys).has_value());
  constexpr std::array<std::string_view, 2> twins{"ab", "ac"};
  CHECK(nearest_name("ax", twins) == "ab");  // ties go to the first
}

TEST_CASE("splitting and trimming") {
  CHECK(split("a,b,,c", ',').size() == 4);
  CHECK(split("", ',').size() == 1);
  CHECK(split("a,", ',')[1].empty());
  CHECK(trimmed("  two words\t\r\n") == "two words");
  CHECK(trimmed(" \t ").empty());
}

TEST_CASE("UTF-8 after RFC 3629") {
  CHECK(valid_utf8("plain"));
  CHECK(valid_utf8("M\xC3\xBChle \xE2\x82\xAC \xF0\x9F\x8C\xB3"));
  for (const std::string_view bad : {"\xC3", "\x80", "\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80",
                                     "\xF4\x90\x80\x80", "\xF8\x88\x80\x80\x80", "a\xE2\x82", "\xFF"})
    CHECK_FALSE(valid_utf8(bad));
}

TEST_CASE("FNV-1a of the published test vectors") {
  // Fowler, Noll, Vo: 64-bit FNV-1a of "", "a", "foobar".
  CHECK(hex16(hash64("")) == "cbf29ce484222325");
  CHECK(hex16(hash64("a")) == "af63dc4c8601ec8c");
  CHECK(hex16(hash64("foobar")) == "85944171f73967e8");
  CHECK(hash64("bar", hash64("foo")) == hash64("foobar"));
}

namespace {
std::string shown(uint32_t line, uint32_t column, const char* source_line, uint32_t width) {
  Diagnostic d;
  d.place.file = "village.yaml";
  d.place.line = line;
  d.place.column = column;
  d.message = "unknown key 'surfce'";
  d.source_line = source_line;
  d.width = width;
  return rendered(d);
}
}  // namespace

TEST_CASE("a diagnostic shows its place, line and caret; columns count characters") {
  CHECK(shown(12, 5, "    surfce: verge", 6) ==
        "village.yaml:12:5: unknown key 'surfce'\n"
        "        surfce: verge\n"
        "        ^~~~~~\n");
  CHECK(shown(1, 7, "\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4: x", 1) ==
        "village.yaml:1:7: unknown key 'surfce'\n"
        "    \xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4: x\n"
        "          ^\n");
  CHECK(shown(0, 0, "", 1) == "village.yaml: unknown key 'surfce'\n");
}

TEST_CASE("every rule reads as a sentence, in its own row") {
  for (int i = 0; i < static_cast<int>(Rule::count_); ++i) {
    CAPTURE(i);
    const RuleText& t = rule_text(static_cast<Rule>(i));
    CHECK_FALSE(t.name.empty());
    CHECK_FALSE(t.sentence.empty());
    CHECK(t.name.find('_') == std::string_view::npos);
    for (int k = 0; k < i; ++k) CHECK(rule_text(static_cast<Rule>(k)).name != t.name);
  }
  // One row out of place would shift all after it.
  CHECK(rule_text(Rule::premises_far_from_street).name == "premises-far-from-street");
  CHECK(rule_text(Rule::fill_exceeded).name == "fill-exceeded");
  CHECK(rule_text(Rule::blow_too_hard).name == "blow-too-hard");
  CHECK(rule_text(Rule::cut_longer_than_drum).name == "cut-longer-than-drum");
  CHECK(mend_text(Mend::none).empty());
  CHECK(mend_text(Mend::larger_headend) == "a larger headend");
  CHECK_THROWS(rule_text(Rule::count_));
}

TEST_CASE("what a message quotes is short and harmless") {
  CHECK(shown("two words") == "two words");
  CHECK(shown(std::string(60, 'x')) == std::string(60, 'x'));
  CHECK(shown(std::string(61, 'x')) == std::string(60, 'x') + "...");
  CHECK(shown("a\x1b[2J\n\x7f") == "a?[2J??");
  std::string umlauts;
  for (int i = 0; i < 60; ++i) umlauts += "\xC3\xBC";  // characters are counted, not bytes
  CHECK(shown(umlauts) == umlauts);
}

TEST_CASE("where a text stops being UTF-8") {
  CHECK(utf8_bytes("") == 0);
  CHECK(utf8_bytes("M\xC3\xBChle") == 6);
  CHECK(utf8_bytes("M\xFChle") == 1);
  CHECK(utf8_bytes("ab\xC3") == 2);            // cut inside a character
  CHECK(utf8_bytes("\xC0\xAF") == 0);          // overlong
  CHECK(utf8_bytes("a\xED\xA0\x80") == 1);     // a surrogate
  CHECK(utf8_bytes("\xF4\x90\x80\x80") == 0);  // above U+10FFFF
  CHECK(place_of_byte("f", "a\n\xC3\xBC\xFF", 4) == Place{"f", 2, 2});
  CHECK(place_of_byte("f", "", 0) == Place{"f", 1, 1});
}

TEST_CASE("a source line with control characters is shown without them") {
  Diagnostic d = diagnostic({"f", 1, 3}, "wrong");
  d.source_line = "\t\x1b[2J";
  CHECK(rendered(d) == "f:1:3: wrong\n    \t?[2J\n    \t ^\n");
}
