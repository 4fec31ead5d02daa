// The output folder is complete or untouched, and never someone else's.
#include <doctest/doctest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "files/disk.h"
#include "files/folder.h"
#include "files/sources.h"
#include "files/tables.h"

namespace fs = std::filesystem;
using namespace withy;

namespace {

struct Scratch {
  Scratch() {
    std::string pattern = (fs::temp_directory_path() / "withy-test-XXXXXX").string();
    path = mkdtemp(pattern.data());
  }
  ~Scratch() { fs::remove_all(path); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  fs::path path;
};

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

void write_text(const fs::path& file, const std::string& text) {
  std::ofstream(file, std::ios::binary) << text;
}

size_t entries(const fs::path& folder) {
  size_t n = 0;
  for ([[maybe_unused]] const auto& e : fs::directory_iterator(folder)) ++n;
  return n;
}

}  // namespace

TEST_CASE("nothing is there before publishing, everything after, and nothing beside it") {
  const Scratch scratch;
  const fs::path target = scratch.path / "plan";
  {
    OutputFolder out(target);
    out.write("spans.csv", "span\r\n1\r\n");
    out.write("sheets/dig.txt", "a page");
    CHECK_FALSE(fs::exists(target));
    out.publish();
  }
  CHECK(text_of(target / "spans.csv") == "span\r\n1\r\n");
  CHECK(text_of(target / "sheets/dig.txt") == "a page");
  CHECK(is_plan_folder(target));
  CHECK(entries(scratch.path) == 1);
}

TEST_CASE("a folder given up leaves no trace") {
  const Scratch scratch;
  { OutputFolder(scratch.path / "plan").write("spans.csv", "half"); }
  CHECK(entries(scratch.path) == 0);
}

TEST_CASE("a plan replaces an older plan whole") {
  const Scratch scratch;
  const fs::path target = scratch.path / "plan";
  for (const std::string name : {"old.csv", "new.csv"}) {
    OutputFolder out(target.string() + "/");  // a closing slash is the same folder
    out.write(name, name);
    out.publish();
  }
  CHECK_FALSE(fs::exists(target / "old.csv"));
  CHECK(text_of(target / "new.csv") == "new.csv");
  CHECK(entries(scratch.path) == 1);
}

TEST_CASE("a folder that Withy did not write is refused and untouched") {
  const Scratch scratch;
  const fs::path target = scratch.path / "mine";
  fs::create_directory(target);
  write_text(target / "letter.txt", "dear");
  write_text(target / "contents.csv", "file,bytes\r\n");  // the name alone does not make it ours
  CHECK_THROWS_AS(OutputFolder{target}, OutsideFault);
  CHECK(entries(target) == 2);
  CHECK(entries(scratch.path) == 1);
  write_text(scratch.path / "file", "");
  CHECK_THROWS_AS(OutputFolder{scratch.path / "file"}, OutsideFault);
}

TEST_CASE("an empty folder may be taken") {
  const Scratch scratch;
  fs::create_directory(scratch.path / "empty");
  OutputFolder out(scratch.path / "empty");
  out.write("a", "b");
  out.publish();
  CHECK(text_of(scratch.path / "empty/a") == "b");
}

TEST_CASE("contents.csv says size and hash of every file") {
  const Scratch scratch;
  OutputFolder out(scratch.path / "plan");
  out.write("a.txt", "withy");
  out.publish();
  // FNV-1a of "withy", computed apart: offset 14695981039346656037, prime 1099511628211.
  uint64_t h = 14695981039346656037ULL;
  for (const char c : std::string("withy")) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  std::ostringstream hex;
  hex << std::hex << h;
  const std::string contents = text_of(scratch.path / "plan/contents.csv");
  CHECK(contents.find("a.txt,5," + std::string(16 - hex.str().size(), '0') + hex.str()) != std::string::npos);
}

TEST_CASE("files that cannot be read are diagnostics, too large ones before they are read") {
  const Scratch scratch;
  CHECK(read_file(scratch.path / "none", 10).diagnostics.at(0).message == "file not found");
  CHECK(read_file(scratch.path, 10).diagnostics.at(0).message == "this is a folder, expected a file");
  write_text(scratch.path / "big", "12345678901");
  CHECK(read_file(scratch.path / "big", 10).diagnostics.at(0).message ==
        "file of 11 bytes exceeds limit 10 bytes");
  fs::resize_file(scratch.path / "big", uint64_t{10} << 30);  // sparse
  CHECK(read_table_text((scratch.path / "big.csv").string()).diagnostics.size() == 1);
  CHECK(read_file(scratch.path / "big", uint64_t{2} << 30).diagnostics.size() == 1);
}

TEST_CASE("sources are written and read back") {
  Sources sources;
  sources.scenario = "b.yaml";
  sources.files["a.csv"] = {3, 0xFEDCBA9876543210ULL};
  sources.files["b.yaml"] = {5, 7};
  const Sources again = read_sources(sources_text(sources));
  CHECK(again.scenario == "b.yaml");
  CHECK(again.files == sources.files);
  CHECK(read_sources("path\r\nx\r\n").files.empty());
}
