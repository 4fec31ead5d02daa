#include <cpl_string.h>
#include <cpl_vsi.h>

#include <algorithm>

#include "gis/source.h"

namespace withy {
namespace {

constexpr size_t most_entries = 10'000;

bool ends_with_one(const std::string& name, const std::vector<std::string>& endings) {
  const std::string low = lower(name);
  return std::any_of(endings.begin(), endings.end(), [&](const std::string& e) { return low.ends_with(e); });
}

std::vector<Inner> zip_entries(const std::string& path, const std::vector<std::string>& endings) {
  // In braces, so that an ending elsewhere in the path is not taken for the archive.
  const std::string archive = "/vsizip/{" + path + "}";
  Heard heard;
  const CPLStringList entries(VSIReadDirRecursive(archive.c_str()));
  if (!entries.List() || heard.failed())
    bad("the archive cannot be read: " + (heard.failed() ? heard.first() : "no .zip"));
  if (static_cast<size_t>(entries.size()) > most_entries) bad("more than 10000 files in one archive");
  std::vector<Inner> inner;
  for (int i = 0; i < entries.size(); ++i)
    if (ends_with_one(entries[i], endings)) inner.push_back({archive + "/" + entries[i], entries[i]});
  std::sort(inner.begin(), inner.end(), [](const Inner& a, const Inner& b) { return a.name < b.name; });
  if (inner.empty()) {
    std::string expected;
    for (const std::string& ending : endings) expected += (expected.empty() ? "" : ", ") + ending;
    bad("no file in the archive that can be read (expected one of " + expected + ")");
  }
  return inner;
}

}  // namespace

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

std::vector<Inner> inner_files(const std::string& path, const std::vector<std::string>& endings) {
  const std::string low = lower(path);
  if (low.ends_with(".zip")) return zip_entries(path, endings);
  if (low.ends_with(".gz")) return {{"/vsigzip/" + path, ""}};
  return {{path, ""}};
}

}  // namespace withy
