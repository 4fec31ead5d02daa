#include "estate/folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "base/text.h"

namespace withy {
namespace {

constexpr size_t most_geojson_premises = 100'000;
constexpr int most_dwellings = 2000;                   // that the scenario lets one premises state
constexpr double least_bore = 10, largest_bore = 500;  // mm, likewise

std::string metres_with_unit(int64_t mm) {
  return mm == 0 ? std::string() : metres_of(mm) + " m";
}

std::string said(Known known) {
  constexpr std::string_view words[] = {"assumed", "mapped", "surveyed"};
  return std::string(words[static_cast<size_t>(known)]);
}

std::string position(const std::optional<plan::Point>& p) {
  return p ? metres_of(p->x) + ' ' + metres_of(p->y) : std::string();
}

// What a duct adds to its row: kind, bore, state, content, owner, hire price.
std::array<std::string, 6> duct_values(const MapDuct* duct) {
  if (!duct) return {};
  constexpr std::string_view states[] = {"unproven", "proven", "blocked"};
  const double bore = std::clamp(duct->bore_millimetres, least_bore, largest_bore);
  return {"existing duct",
          plan::shortest(bore) + " mm",
          std::string(states[static_cast<size_t>(duct->state)]),
          duct->content,
          duct->owner,
          duct->hire_price};
}

std::string_view kind_word(RemarkKind kind) {
  constexpr std::string_view words[] = {"repaired", "left out", "doubtful"};
  return words[static_cast<size_t>(kind)];
}

}  // namespace

TableKind table_kind(size_t premises) {
  return premises > most_geojson_premises ? TableKind::csv : TableKind::geojson;
}

std::string id_text(const Map& map, const MapId& id) {
  constexpr std::string_view kinds[] = {"node", "way", "relation", "feature"};
  const std::string text = fmt::format("{} {}", kinds[static_cast<size_t>(id.kind)], id.number);
  if (map.sources.size() < 2 || id.source >= map.sources.size()) return text;
  return text + " of " + std::filesystem::path(map.sources[id.source].path).filename().string();
}

void write_premises(const Draft& draft, TableKind kind, const plan::Sink& sink) {
  EstateTable table(sink, kind,
                    {{"name"},
                     {"street"},
                     {"dwellings", true},
                     {"drop from", false, true},
                     {"boundary"},
                     {"boundary known"},
                     {"indoor"},
                     {"building point"},
                     {"riser"},
                     {"entry known"},
                     {"dwellings known"}},
                    {draft.plane, "", false});
  for (const DraftPremises& p : draft.premises) {
    const std::array<std::string, 11> values{p.name,
                                             p.street,
                                             std::to_string(std::clamp(p.dwellings, 1, most_dwellings)),
                                             position(p.drop_from),
                                             metres_with_unit(p.boundary),
                                             p.boundary > 0 ? said(p.boundary_known) : "",
                                             metres_with_unit(p.indoor),
                                             p.building_point ? "yes" : "",
                                             p.building_point ? metres_with_unit(p.riser) : "",
                                             said(p.entry_known),
                                             said(p.dwellings_known)};
    table.point(values, p.at);
  }
  table.end();
}

void write_routes(const Draft& draft, TableKind kind, const plan::Sink& sink) {
  EstateTable table(sink, kind,
                    {{"name"},
                     {"street"},
                     {"surface"},
                     {"surface known"},
                     {"method"},
                     {"drops"},
                     {"level", true},
                     {"restricted"},
                     {"crossing"},
                     {"forbidden"},
                     {"kind"},
                     {"bore"},
                     {"state"},
                     {"content"},
                     {"owner"},
                     {"hire price"}},
                    {draft.plane, "", true});
  for (const DraftRoute& r : draft.routes) {
    const bool duct = r.duct != nullptr;
    const auto [of_kind, bore, state, content, owner, hire] = duct_values(r.duct);
    const std::array<std::string, 16> values{r.name,
                                             r.street,
                                             duct ? "" : r.surface,
                                             duct ? "" : said(r.surface_known),
                                             r.method,
                                             r.drops || duct ? "" : "no",
                                             r.level == 0 ? "" : std::to_string(r.level),
                                             r.restricted ? "private or restricted, as mapped" : "",
                                             r.crossing,
                                             r.forbidden,
                                             of_kind,
                                             bore,
                                             state,
                                             content,
                                             owner,
                                             hire};
    table.line(values, r.line, r.heights);
  }
  table.end();
}

void write_remarks(const DraftedEstate& estate, const plan::Sink& sink) {
  std::string block = "{\"type\":\"FeatureCollection\",\"features\":[";
  std::string_view between = "\n";
  const auto add = [&](const MapRemark& r) {
    block += fmt::format(
        "{}{{\"type\":\"Feature\",\"properties\":{{\"id\":{},\"kind\":\"{}\",\"what\":{},\"detail\":{}}},"
        "\"geometry\":{{\"type\":\"Point\",\"coordinates\":[{:.7f},{:.7f}]}}}}",
        between, json_text(id_text(estate.map, r.id)), kind_word(r.kind), json_text(r.what),
        json_text(clean_text(r.detail)), r.at.x, r.at.y);
    between = ",\n";
    if (block.size() < (size_t{1} << 16)) return;
    sink(block);
    block.clear();
  };
  for (const MapRemark& r : estate.map.remarks) add(r);
  for (const MapRemark& r : estate.draft.remarks) add(r);
  sink(block + "\n]}\n");
}

std::string licence_text(const Map& map) {
  std::string sources;
  bool open_street_map = false;
  for (const MapSource& s : map.sources) {
    if (s.licence.empty()) continue;
    sources += fmt::format("  {}: {}\n", std::filesystem::path(s.path).filename().string(), s.licence);
    open_street_map = open_street_map || s.licence.find("ODbL") != std::string::npos;
  }
  if (sources.empty()) return {};
  std::string text = "Sources of this estate, as they state their licence:\n" + sources;
  if (open_street_map)
    text +=
        "\nContains data (c) OpenStreetMap contributors: https://www.openstreetmap.org/copyright\n"
        "made available under the Open Database License (ODbL) 1.0: "
        "https://opendatacommons.org/licenses/odbl/1-0/\n"
        "The premises and routes of this folder are a derivative database under the same licence. Whoever is "
        "given\n"
        "them, or a plan or drawing made from them, is to be told the first two lines.\n";
  return text;
}

void write_estate(const DraftedEstate& estate, const EstateBrief& brief, OutputFolder& out) {
  const TableKind kind = table_kind(estate.draft.premises.size());
  write_premises(estate.draft, kind, out.file(fmt::format("premises{}", ending(kind))));
  write_routes(estate.draft, kind, out.file(fmt::format("routes{}", ending(kind))));
  out.write("scenario.yaml", brief_text(estate, brief));
  out.write("estate-report.txt", report_text(estate, brief));
  write_walk_out(estate, out.file("estate-walk-out.csv"));
  write_remarks(estate, out.file("estate-remarks.geojson"));
  if (const std::string licence = licence_text(estate.map); !licence.empty())
    out.write("LICENCE.txt", licence);
}

}  // namespace withy
