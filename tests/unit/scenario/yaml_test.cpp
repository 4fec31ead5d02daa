#include "scenario/yaml.h"

#include <fmt/core.h>

#include "scenario_text.h"

using namespace plan;

namespace {

std::string fault_of(const std::string& text, YamlLimits limits = {}) {
  Tree tree;
  const Result<NodeRef> r = read_yaml("t.yaml", text, tree, limits);
  REQUIRE_FALSE(r.value.has_value());
  const std::string all = all_rendered(r.diagnostics);
  return all.substr(0, all.find('\n'));
}

std::string nested(int depth) {
  return "a: " + std::string(static_cast<size_t>(depth), '[') + std::string(static_cast<size_t>(depth), ']');
}

}  // namespace

TEST_CASE("places count characters, not bytes") {
  Tree tree;
  const Result<NodeRef> r = read_yaml("t.yaml", "\xC3\xA4\xC3\xB6: x\n", tree);
  REQUIRE(r);
  const NodeRef x = tree.find(*r, "\xC3\xA4\xC3\xB6");
  CHECK(tree.place(x) == Place{"t.yaml", 1, 5});
  CHECK(tree.fault(x, "here").source_line == "\xC3\xA4\xC3\xB6: x");
}

TEST_CASE("an empty value stands at its key") {
  Tree tree;
  const Result<NodeRef> r = read_yaml("t.yaml", "c:\nd: 1\n", tree);
  REQUIRE(r);
  const NodeRef c = tree.find(*r, "c");
  CHECK(tree.kind(c) == TreeKind::null);
  CHECK(tree.place(c) == Place{"t.yaml", 1, 1});
}

TEST_CASE("nesting is limited long before the parser gives up") {
  Tree tree;
  CHECK(read_yaml("t.yaml", nested(63), tree).value.has_value());
  CHECK(fault_of(nested(64)) == "t.yaml:1:67: nested deeper than 64 levels");
  CHECK(fault_of(nested(5000)) == "t.yaml:1:67: nested deeper than 64 levels");
}

TEST_CASE("a file that ends inside a quote is refused") {
  CHECK(fault_of("a: \"abc\n") == "t.yaml:1:4: the quoted text that begins here is never closed");  // L4
  CHECK(fault_of("a: 'abc\n") == "t.yaml:1:4: the quoted text that begins here is never closed");
  CHECK(fault_of("a: 'it''s\n") == "t.yaml:1:4: the quoted text that begins here is never closed");
  CHECK(fault_of("a: \"abc").substr(0, 27) == "t.yaml:1:8: not valid YAML:");
  Tree tree;
  const Result<NodeRef> r = read_yaml("t.yaml", "a: \"q\\\"q\"\nb: 'it''s'\n", tree);
  REQUIRE(r);
  CHECK(tree.text(tree.find(*r, "a")) == "q\"q");
  CHECK(tree.text(tree.find(*r, "b")) == "it's");
  CHECK(tree.quoted(tree.find(*r, "a")));
}

TEST_CASE("only UTF-8 is read") {
  CHECK(fault_of("a: 1\nb: x\xFF\n") == "t.yaml:2:5: byte that is not UTF-8");
  CHECK(fault_of("\xFF\xFE"
                 "a") == "t.yaml: file is UTF-16, expected UTF-8");
  CHECK(fault_of(std::string("a: \0 1", 6)) == "t.yaml: file holds a zero byte, expected UTF-8 text");
  Tree tree;
  CHECK(read_yaml("t.yaml",
                  "\xEF\xBB\xBF"
                  "a: 1\n",
                  tree)
            .value.has_value());
}

TEST_CASE("what is more than plain data is refused") {
  CHECK(fault_of("a: 1\nb: 2\na: 3\n") == "t.yaml:3:1: key 'a' stands twice, first in line 1");
  CHECK(fault_of("a: [x]\nb: *x\n").find("t.yaml:2:") == 0);
  CHECK(fault_of("a: &x 1\n") == "t.yaml:1:4: anchors are refused, write the value out where it is used");
  CHECK(fault_of("a: 1\n---\nb: 2\n").find("a second document begins here") != std::string::npos);
  CHECK(fault_of("a: !foo x\n").find("tag '!foo' is refused, values are plain") != std::string::npos);
  CHECK(fault_of("? [a]\n: 1\n").find("a key must be plain text") != std::string::npos);
  CHECK(fault_of("") == "t.yaml: file says nothing");
  CHECK(fault_of("# only a remark\n") == "t.yaml: file says nothing");
  CHECK(fault_of("a: 1\n b: [\n").find("not valid YAML: ") != std::string::npos);
}

TEST_CASE("an alias bomb is refused at its first alias") {
  std::string bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n";
  for (int k = 1; k < 8; ++k) {
    bomb += fmt::format("a{0}: &a{0} [", k);
    for (int i = 0; i < 9; ++i) bomb += fmt::format("{}*a{}", i ? "," : "", k - 1);
    bomb += "]\n";
  }
  Tree tree;
  const Result<NodeRef> r = read_yaml("t.yaml", bomb, tree);
  REQUIRE_FALSE(r.value.has_value());
  CHECK(r.diagnostics.back().message == "aliases are refused, write the value out");
  CHECK(r.diagnostics.back().place == Place{"t.yaml", 2, 10});
  CHECK(tree.size() < 40);
}

TEST_CASE("bytes and values are limited") {
  YamlLimits few;
  few.nodes = 10;
  CHECK(fault_of("a: [1,2,3,4,5,6,7,8,9,10]\n", few) ==
        "t.yaml:1:19: more than 10 values in one file, put large tables into files of their own");
  YamlLimits small;
  small.bytes = 4;
  CHECK(fault_of("a: 12\n", small) ==
        "t.yaml: file of 6 bytes exceeds the limit of 4, put large tables into files of their own");
}

TEST_CASE("a wide mapping with a repeated key takes no longer than sorting") {
  std::string text;
  for (int i = 0; i < 20000; ++i) text += fmt::format("k{}: 1\n", i);
  CHECK(fault_of(text + "k7: 2\n") == "t.yaml:20001:1: key 'k7' stands twice, first in line 8");
}
