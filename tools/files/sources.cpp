#include "files/sources.h"

#include <fmt/core.h>

#include <charconv>
#include <vector>

#include "base/csv.h"
#include "base/text.h"
#include "files/disk.h"
#include "files/tables.h"

namespace withy {
namespace {

void note(Sources& sources, const std::string& path, std::string_view text) {
  sources.files[path] = {text.size(), plan::hash64(text)};
}

}  // namespace

plan::Files noting_files(Sources& sources) {
  return {[&sources](const std::string& path) {
            auto text = read_scenario_text(path);
            if (text) note(sources, path, *text);
            return text;
          },
          [&sources](const std::string& path, std::string_view layer, const plan::RowSink& rows) {
            return read_table_file({path, layer}, rows,
                                   [&](std::string_view text) { note(sources, path, text); });
          }};
}

std::string sources_text(const Sources& sources) {
  const std::string& own = sources.scenario;
  std::string text = "path,bytes,hash\r\n";
  plan::CsvWriter csv([&text](std::string_view block) { text += block; });
  const auto row = [&csv](const std::string& path, const Source& s) {
    csv.text(path).integer(static_cast<int64_t>(s.bytes)).raw(plan::hex16(s.hash)).end_row();
  };
  for (const auto& [path, s] : sources.files)
    if (path == own) row(path, s);
  for (const auto& [path, s] : sources.files)
    if (path != own) row(path, s);
  csv.flush();
  return text;
}

Sources read_sources(std::string_view text) {
  Sources sources;
  plan::CsvReader reader(text);
  std::vector<plan::CsvField> row;
  reader.next(row);
  while (reader.next(row)) {
    if (row.size() != 3) return {};
    Source s;
    std::from_chars(row[1].text.data(), row[1].text.data() + row[1].text.size(), s.bytes);
    std::from_chars(row[2].text.data(), row[2].text.data() + row[2].text.size(), s.hash, 16);
    if (sources.scenario.empty()) sources.scenario = row[0].text;
    sources.files[std::string(row[0].text)] = s;
  }
  return sources;
}

}  // namespace withy
