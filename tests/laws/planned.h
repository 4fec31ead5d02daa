// Whole plans in memory: from the texts of a scenario to every text of its plan folder, without a disk.
//
//   const FolderTexts estate = invented(400, 7);                    // scenario.yaml and its two table files
//   const Scenario s = scenario_in(estate);
//   const Plan p = planned(s);
//   const FolderTexts folder = written(p);                          // "spans.csv" -> its bytes
//   CHECK(difference(folder, written(planned(s, 7))) == "");  // else the first line that differs
//   const AuditFaults faults = audited(folder);
//
// A scenario that cannot be read fails the test with every diagnostic rendered.
#pragma once
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "audit/audit.h"
#include "base/text.h"
#include "estate/invent.h"
#include "files/disk.h"
#include "files/tables.h"
#include "report/report.h"

namespace plan {

using FolderTexts = std::map<std::string, std::string>;

// Serves these texts; a table by the ending of its name.
inline Files files_in(const FolderTexts& texts) {
  const auto text_of = [texts](const std::string& path) -> Result<std::string> {
    const auto at = texts.find(path);
    return at == texts.end() ? failed<std::string>("no such file") : good(at->second);
  };
  Files files;
  files.text = text_of;
  files.table = [text_of](const std::string& path, std::string_view, const RowSink& rows) -> Diagnostics {
    const Result<std::string> text = text_of(path);
    return text ? withy::read_table(path, *text, rows) : text.diagnostics;
  };
  return files;
}

inline std::string told(const Diagnostics& diagnostics) {
  std::string text;
  for (const Diagnostic& d : diagnostics) text += rendered(d);
  return text;
}

inline Scenario scenario_in(const FolderTexts& texts) {
  Result<Scenario> s = read_scenario(files_in(texts), "scenario.yaml");
  REQUIRE_MESSAGE(s.value.has_value(), told(s.diagnostics));
  return std::move(*s);
}

// One of scenarios/*.yaml with the tables beside it, read from the disk under the names it uses itself.
inline FolderTexts shipped(const std::string& name) {
  const std::filesystem::path folder = std::filesystem::path(WITHY_SOURCE) / "scenarios";
  FolderTexts texts{{"scenario.yaml", withy::must_read(folder / (name + ".yaml"))}};
  for (const char* table : {"premises.geojson", "routes.geojson"})
    if (const std::string file = name + "/" + table; std::filesystem::exists(folder / file))
      texts[file] = withy::must_read(folder / file);
  return texts;
}

// `more` is appended to the twelve-line brief.
inline FolderTexts invented(int premises, uint64_t seed, std::string_view more = "") {
  const withy::InventedEstate estate = withy::invent(premises, seed);
  return {{"scenario.yaml", withy::invented_scenario(estate, "Invented") + std::string(more)},
          {"premises.geojson", withy::premises_geojson(estate)},
          {"routes.geojson", withy::routes_geojson(estate)}};
}

inline Plan planned(const Scenario& scenario, int threads = 1) {
  return make_plan(scenario, nullptr, Hold::nothing, {.threads = threads});
}
inline Plan planned(const FolderTexts& texts, int threads = 1) {
  return planned(scenario_in(texts), threads);
}

// Every text of the plan folder but the list of sources, which only the disk knows.
inline FolderTexts written(const Plan& plan) {
  FolderTexts texts{{"scenario.yaml", effective(plan.scenario)}};
  for (const Output& output : plan_outputs(plan)) {
    std::string& text = texts[output.file];
    output.write([&text](std::string_view piece) { text += piece; });
  }
  return texts;
}

inline AuditFaults audited(const FolderTexts& folder) {
  return audit([&folder](std::string_view file) {
    const auto at = folder.find(std::string(file));
    REQUIRE_MESSAGE(at != folder.end(), std::string(file));
    return at->second;
  });
}
inline std::string told(const AuditFaults& faults) {
  std::string text;
  for (size_t i = 0; i < std::min<size_t>(faults.size(), 20); ++i) text += rendered(faults[i]) + "\n";
  return text;
}

// Of a line that differs: all of it, or the part round the first difference.
inline std::string shown_part(std::string_view line, size_t differs) {
  constexpr size_t most = 160, before = 60;
  if (line.size() <= most) return std::string(line);
  const size_t from = differs > before ? differs - before : 0;
  return fmt::format("{}{}{}", from > 0 ? "…" : "", line.substr(from, most),
                     from + most < line.size() ? "…" : "");
}

// The first line that differs, both ways; empty where the texts are equal.
inline std::string difference(std::string_view name, std::string_view a, std::string_view b) {
  if (a == b) return "";
  for (size_t line = 1;; ++line) {
    const size_t end_a = a.find('\n'), end_b = b.find('\n');
    const std::string_view line_a = a.substr(0, end_a), line_b = b.substr(0, end_b);
    if (line_a != line_b || end_a == std::string_view::npos || end_b == std::string_view::npos) {
      const size_t shorter = std::min(line_a.size(), line_b.size());
      size_t at = 0;
      while (at < shorter && line_a[at] == line_b[at]) ++at;
      return fmt::format("{}:{}:{} differs\n  - {}\n  + {}\n", name, line, at + 1, shown_part(line_a, at),
                         shown_part(line_b, at));
    }
    a.remove_prefix(end_a + 1), b.remove_prefix(end_b + 1);
  }
}
inline std::string difference(const FolderTexts& a, const FolderTexts& b) {
  for (const auto& [name, text] : a) {
    const auto at = b.find(name);
    if (at == b.end()) return fmt::format("{}: only in the first\n", name);
    if (std::string d = difference(name, text, at->second); !d.empty()) return d;
  }
  for (const auto& [name, text] : b)
    if (!a.contains(name)) return fmt::format("{}: only in the second\n", name);
  return "";
}

}  // namespace plan
