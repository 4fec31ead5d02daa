// Input made to hurt: bombs, floods, files of absurd size, and damaged copies of good files. Nothing of
// it may crash, throw, run long or fill the screen, and what is refused is refused at a place.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>

#include "base/text.h"
#include "files/disk.h"
#include "files/tables.h"

using namespace plan;
namespace fs = std::filesystem;

namespace {

#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define WITHY_SLOW
#endif
#endif
#ifdef WITHY_SLOW
constexpr int slowness = 5;  // the sanitized build reads so many fewer damaged copies
#else
constexpr int slowness = 1;
#endif

const std::string head = "scenario: Little Withy\nstart: 2027-03-01\n";
const std::string tail =
    "headends: [{name: Exchange, at: [0, 0]}]\nclass: GPON B+\nsplit: [{at: cabinet, ratio: 1:32}]\n";
const std::string inline_premises = "  premises: [{name: A, at: [10, 5]}]\n";
const std::string inline_routes = "  routes: [{name: r, line: [[0, 0], [100, 0]], surface: verge}]\n";

std::string little(const std::string& more = "") {
  return head + "estate:\n" + inline_premises + inline_routes + tail + more;
}

// Serves one scenario and one table, both from memory.
Files from_memory(const std::string& scenario, const std::string& table = "") {
  Files files;
  files.text = [scenario](const std::string& path) -> Result<std::string> {
    if (path == "it.yaml") return good(scenario);
    return failed<std::string>("file not found");
  };
  files.table = [table](const std::string& path, std::string_view, const RowSink& rows) {
    return withy::read_table(path, table, rows);
  };
  return files;
}

Result<Scenario> read(const std::string& scenario, const std::string& table = "") {
  const auto begin = std::chrono::steady_clock::now();
  Result<Scenario> s = read_scenario(from_memory(scenario, table), "it.yaml");
  CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(60));  // minutes under no sanitizer
  CHECK(s.value.has_value() == s.diagnostics.empty());
  for (const Diagnostic& d : s.diagnostics) {
    CHECK(d.message.size() < 300);
    CHECK(d.source_line.size() <= 240);
  }
  return s;
}

std::string first_of(const Result<Scenario>& s) {
  REQUIRE_FALSE(s.value.has_value());
  const Diagnostic& d = s.diagnostics.front();
  return fmt::format("{}:{}:{}: {}", d.place.file, d.place.line, d.place.column, d.message);
}

std::string many(std::string_view piece, size_t times) {
  std::string text;
  text.reserve(piece.size() * times);
  for (size_t i = 0; i < times; ++i) text += piece;
  return text;
}

std::string with_table(std::string_view key, std::string_view file) {
  return head + "estate:\n" + (key == "premises" ? inline_routes : inline_premises) +
         fmt::format("  {}: {}\n", key, file) + tail;
}

// --- damage ---

class Damage {
 public:
  explicit Damage(uint32_t seed) : draw_(seed) {}
  std::string of(std::string text) {
    switch (below(5)) {
      case 0:
        return text.substr(0, below(text.size() + 1));
      case 1:
        return swap_lines(text);
      case 2:
        return text.insert(below(text.size() + 1), 1, "{}[]:,\"'#&*!|>%@`\t\n-?\\"[below(22)]);
      case 3:
        return text.erase(below(text.size() + 1), 1 + below(20));
      default:
        for (size_t flips = text.empty() ? 0 : 1 + below(3); flips > 0; --flips)
          text[below(text.size())] ^= static_cast<char>(1u << below(8));
        return text;
    }
  }

 private:
  size_t below(size_t n) { return draw_() % n; }
  std::string swap_lines(const std::string& text) {
    std::vector<std::string_view> lines = split(text, '\n');
    const size_t a = below(lines.size()), b = below(lines.size());
    std::swap(lines[a], lines[b]);
    std::string swapped;
    for (const std::string_view line : lines) swapped.append(line).append("\n");
    return swapped;
  }
  std::mt19937 draw_;
};

uint32_t characters(std::string_view line) {
  uint32_t count = 0;
  for (const char c : line)
    if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++count;
  return count;
}

// Whether a place lies inside a text, or is the text as a whole. One past the end of a line, and the
// line after the last, are where things are missed.
bool inside(const Place& place, const std::string& text) {
  if (place.line == 0) return place.column == 0;
  const std::vector<std::string_view> lines = split(text, '\n');
  if (place.line > lines.size() + 1) return false;
  const std::string_view line = place.line <= lines.size() ? lines[place.line - 1] : std::string_view();
  return place.column >= 1 && place.column <= characters(line) + 1;
}

// Reads damaged copies of `good_text` as `file`; how many of them were refused.
int refused_of(const std::string& file, const std::string& good_text, int copies, const auto& read_copy) {
  Damage damage(20270301);
  int refused = 0;
  for (int k = 0; k < copies; ++k) {
    const std::string text = damage.of(good_text);
    const Result<Scenario> s = read_copy(text);
    if (s) continue;
    ++refused;
    bool placed = false;
    for (const Diagnostic& d : s.diagnostics) {
      if (d.place.file == file) CHECK_MESSAGE(inside(d.place, text), k, " ", rendered(d));
      placed = placed || d.place.file == file || d.place.file == "it.yaml";
    }
    CHECK_MESSAGE(placed, k, " ", rendered(s.diagnostics.front()));
  }
  return refused;
}

const std::string premises_csv =
    "name,x,y,street,dwellings,connect,indoor\n1 Mill Lane,10,5,Mill Lane,1,at build,6 m\n"
    "\"2 Mill Lane, the \"\"Forge\"\"\",30,-5,Mill Lane,4,on order,\n3 Mill Lane,50,5.5,,1,never,2.5 m\n";
const std::string routes_geojson =
    "{\"type\": \"FeatureCollection\", \"features\": [\n"
    "{\"type\": \"Feature\", \"properties\": {\"name\": \"Mill Lane\", \"surface\": \"verge\", \"kind\": "
    "null},\n"
    " \"geometry\": {\"type\": \"LineString\", \"coordinates\": [[0, 0], [60.5, 1e1], [100, 0]]}},\n"
    "{\"type\": \"Feature\", \"properties\": {\"name\": \"M\\u00fchle\", \"surface\": \"paved footway\"},\n"
    " \"geometry\": {\"type\": \"LineString\", \"coordinates\": [[100, 0], [100, -80]]}}\n]}\n";

}  // namespace

TEST_CASE("a table of 10 GB is refused before it is read") {
  const fs::path scratch = fs::temp_directory_path() / fmt::format("withy-bad-{}", std::random_device()());
  fs::create_directory(scratch);
  const std::string scenario = (scratch / "huge.yaml").string();
  std::ofstream(scenario) << with_table("premises", "huge.csv");
  std::ofstream(scratch / "huge.csv").close();
  fs::resize_file(scratch / "huge.csv", uintmax_t{10'000'000'000});  // sparse: it holds no block
  const auto begin = std::chrono::steady_clock::now();
  const Result<Scenario> s = read_scenario(withy::disk_files(), scenario);
  CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(2));
  fs::remove_all(scratch);
  REQUIRE(s.diagnostics.size() == 1);
  CHECK(s.diagnostics[0].place == Place{scenario, 5, 13});
  CHECK(s.diagnostics[0].message == fmt::format("cannot read '{}': file of 10000000000 bytes exceeds limit "
                                                "2147483648 bytes",
                                                (scratch / "huge.csv").string()));
}

TEST_CASE("files that say nothing, or what is no file") {
  CHECK(first_of(read("")) == "it.yaml:0:0: file says nothing");
  CHECK(first_of(read(with_table("premises", "it.csv"), "")) ==
        "it.yaml:5:13: cannot read 'it.csv': file says nothing");
  const Result<Scenario> folder = read_scenario(withy::disk_files(), ".");
  CHECK(first_of(folder) == ".:0:0: this is a folder, expected a file");
  CHECK(first_of(read(little("use: [\"it.yaml\\0.txt\"]\n"))) ==
        "it.yaml:9:7: cannot read 'it.yaml?.txt': file not found");
}

TEST_CASE("bombs of depth") {
  constexpr size_t million = 1'000'000;
  CHECK(first_of(read("a: " + many("[", million) + many("]", million))) ==
        "it.yaml:1:67: nested deeper than 64 levels");
  CHECK(first_of(read("a: " + many("{a: ", million))) == "it.yaml:1:256: nested deeper than 64 levels");
  CHECK(first_of(read(many("- ", million))) == "it.yaml:1:129: nested deeper than 64 levels");
  CHECK(first_of(read(with_table("routes", "it.geojson"), many("[", million))) ==
        "it.geojson:1:1: the file is a list, expected a FeatureCollection");
  CHECK(first_of(read(with_table("routes", "it.geojson"), many("{\"a\":", million))) ==
        "it.geojson:1:81: nested deeper than 16 levels");
  CHECK(first_of(read(with_table("routes", "it.geojson"),
                      R"({"type": "FeatureCollection", "features": [{"geometry": {"coordinates": )" +
                          many("[", million))) == "it.geojson:1:85: nested deeper than 16 levels");
}

TEST_CASE("one line of two megabytes") {
  CHECK(first_of(read(little("note: [" + many("1,", 1'000'000) + "1]\n"))) ==
        "it.yaml:9:7: 'note' is a list, expected a text");
  CHECK(first_of(read(little("note: " + many("x", 2'000'000) + "\n"))) ==
        "it.yaml:9:7: 'note' has 2000000 bytes, expected at most 500");
  CHECK(first_of(read("{" + many("a: 1, ", 300'000) + "b: 2}")) ==
        "it.yaml:1:8: key 'a' stands twice, first in line 1");
}

TEST_CASE("a message quotes at most 60 characters of what it found") {
  const std::string long_word = many("very long ", 40), cut = long_word.substr(0, 60) + "...";
  CHECK(first_of(read(little("class of service: " + long_word + "\n"))) ==
        "it.yaml:9:1: unknown key 'class of service'");
  CHECK(first_of(read(little(long_word + ": 1\n"))) == "it.yaml:9:1: unknown key '" + cut + "'");
  CHECK(first_of(read(little("blowing: {speed: " + long_word + "}\n"))) ==
        "it.yaml:9:18: 'speed' is '" + cut + "', expected a speed with its unit, such as 30 m/min");
  CHECK(first_of(read(little("ducts: {drop microduct: " + long_word + "}\n"))) ==
        "it.yaml:9:25: unknown microduct '" + cut + "'");
  CHECK(first_of(read(little("use: [" + long_word + "]\n"))) ==
        "it.yaml:9:7: cannot read '" + cut + "': file not found");
}

TEST_CASE("control characters do not reach a terminal") {
  const Result<Scenario> s = read(little("blowing: {speed: \x1b[2J}\n"));
  REQUIRE_FALSE(s.value.has_value());
  for (const Diagnostic& d : s.diagnostics) CHECK(rendered(d).find('\x1b') == std::string::npos);
  const Result<Scenario> t = read(with_table("premises", "it.csv"), "name,x,y,\x1b[2J\nA,1,2,3\n");
  for (const Diagnostic& d : t.diagnostics) CHECK(rendered(d).find('\x1b') == std::string::npos);
}

TEST_CASE("floods of faults end") {
  CHECK(read(many("a: 1\n", 100'000)).diagnostics.size() == 1000);
  CHECK(read(little(many("? zq\n", 1) + many("- 1\n", 1))).diagnostics.size() >= 1);
  std::string unknown, edits = "edits:\n", crews = "crews:\n";
  for (int i = 0; i < 20'000; ++i) unknown += fmt::format("zq{}: 1\n", i);
  CHECK(read(little(unknown)).diagnostics.size() == 1001);
  for (int i = 0; i < 2'000; ++i) edits += fmt::format("  - {{name: e{}, change: {{note: n}}}}\n", i);
  CHECK(first_of(read(little(edits))) == "it.yaml:210:26: more than 200 edits");
  crews += many("  - {name: D, skills: [dig], number: 500}\n", 20'000);
  CHECK(first_of(read(little(crews))) == "it.yaml:30:5: 10500 crews up to here, expected at most 10000");
  const Result<Scenario> columns = read(with_table("premises", "it.csv"), many("c,", 100'000) + "c\n");
  CHECK(first_of(columns) == "it.csv:1:1: 100001 columns, expected at most 256");
}

TEST_CASE("damaged copies of hamlet") {
  const std::string hamlet = withy::must_read(fs::path(WITHY_SOURCE) / "scenarios/hamlet.yaml");
  REQUIRE(read(hamlet).value.has_value());
  const int copies = 3000 / slowness;
  const int refused = refused_of("it.yaml", hamlet, copies, [](const std::string& t) { return read(t); });
  CHECK(refused > copies / 3);
  CHECK(refused < copies);
}

TEST_CASE("damaged copies of a CSV table and of a GeoJSON one") {
  const std::string by_csv = with_table("premises", "it.csv"),
                    by_geojson = with_table("routes", "it.geojson");
  REQUIRE(read(by_csv, premises_csv).value.has_value());
  REQUIRE(read(by_geojson, routes_geojson).value.has_value());
  const int copies = 400 / slowness;
  const int csv =
      refused_of("it.csv", premises_csv, copies, [&](const std::string& t) { return read(by_csv, t); });
  CHECK(csv > copies / 4);
  CHECK(csv < copies);
  const int geojson = refused_of("it.geojson", routes_geojson, copies,
                                 [&](const std::string& t) { return read(by_geojson, t); });
  CHECK(geojson > copies / 2);
  CHECK(geojson < copies);
}

TEST_CASE("damaged tables by themselves, many") {
  for (const auto& [file, text] : {std::pair<std::string, std::string>("it.csv", premises_csv),
                                   std::pair<std::string, std::string>("it.geojson", routes_geojson)}) {
    Damage damage(7);
    for (int k = 0; k < 20'000 / slowness; ++k) {
      const std::string copy = damage.of(damage.of(text));
      for (const Diagnostic& d : withy::read_table(file, copy, [](const Tree&, NodeRef) {}))
        CHECK_MESSAGE(inside(d.place, copy), k, " ", rendered(d), copy);
    }
  }
}
