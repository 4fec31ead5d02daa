#include "estate/folder.h"

#include <fmt/core.h>

#include <filesystem>
#include <fstream>

#include "estate/estate_package.h"
#include "estate/estate_rows.h"

namespace withy {
namespace {

constexpr size_t most_geojson_premises = 100'000;

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
  std::string text = fmt::format("{} {}", kinds[static_cast<size_t>(id.kind)], id.number);
  if (map.sources.size() < 2 || id.source >= map.sources.size()) return text;
  return text + " of " + std::filesystem::path(map.sources[id.source].path).filename().string();
}

void write_premises(const Draft& draft, TableKind kind, const plan::Sink& sink) {
  EstateTable table(sink, kind, {premises_columns().begin(), premises_columns().end()},
                    {draft.plane, "", false});
  for (const DraftPremises& p : draft.premises) table.point(values_of(p), p.at);
  table.end();
}

void write_routes(const Draft& draft, TableKind kind, const plan::Sink& sink) {
  EstateTable table(sink, kind, {route_columns().begin(), route_columns().end()}, {draft.plane, "", true});
  for (const DraftRoute& r : draft.routes) table.line(values_of(r), r.line, r.heights);
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

namespace {

void write_tables(const Draft& draft, OutputFolder& out) {
  const TableKind kind = table_kind(draft.premises.size());
  write_premises(draft, kind, out.file(fmt::format("premises{}", ending(kind))));
  write_routes(draft, kind, out.file(fmt::format("routes{}", ending(kind))));
}

// The library writes a file of its own; the folder takes it over, so that it counts among its contents.
void write_package(const Draft& draft, const EstateBrief& brief, OutputFolder& out) {
  const std::filesystem::path made = out.working() / "estate.gpkg.part";
  write_estate_package(draft, brief.start + "T00:00:00.000Z", made);
  const plan::Sink sink = out.file("estate.gpkg");
  std::ifstream in(made, std::ios::binary);
  std::string block(size_t{1} << 20, '\0');
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0)
    sink(std::string_view(block).substr(0, static_cast<size_t>(in.gcount())));
  std::filesystem::remove(made);
}

}  // namespace

void write_estate(const DraftedEstate& estate, const EstateBrief& brief, OutputFolder& out) {
  if (brief.geopackage)
    write_package(estate.draft, brief, out);
  else
    write_tables(estate.draft, out);
  out.write("scenario.yaml", brief_text(estate, brief));
  out.write("estate-report.txt", report_text(estate, brief));
  write_walk_out(estate, out.file("estate-walk-out.csv"));
  write_remarks(estate, out.file("estate-remarks.geojson"));
  if (const std::string licence = licence_text(estate.map); !licence.empty())
    out.write("LICENCE.txt", licence);
}

}  // namespace withy
