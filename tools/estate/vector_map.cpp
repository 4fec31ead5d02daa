#include "estate/vector_map.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "base/text.h"
#include "estate/vector_axes.h"
#include "estate/vector_take.h"
#include "files/disk.h"
#include "files/gis_ahead.h"

namespace withy {
namespace {

constexpr std::array<std::string_view, 7> endings{".gpkg",     ".geojson", ".json", ".geojsonl",
                                                  ".geojsons", ".ndjson",  ".shp"};

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

bool same_letters(std::string_view a, std::string_view b) {
  return lower(std::string(a)) == lower(std::string(b));
}

// The fields to ask for, and where each role finds its own among them.
struct Asked {
  std::vector<int32_t> fields;
  RoleFields roles{};
  plan::Diagnostics faults;
};

std::vector<int32_t> fields_of(const GisLayer& layer, const RoleRule& rule) {
  std::vector<int32_t> fields;
  for (const std::string& wanted : rule.fields)
    for (int32_t i = 0; i < layer.field_count; ++i)
      if (same_letters(layer.fields[i], wanted)) fields.push_back(i);
  return fields;
}

std::string with_suggestion(const RoleRule& rule, const GisLayer& layer) {
  std::vector<std::string_view> names(layer.fields, layer.fields + layer.field_count);
  if (const auto near = plan::nearest_name(rule.fields[0], names))
    return fmt::format(", did you mean '{}'", *near);
  std::string all;
  for (const std::string_view name : names)
    all += fmt::format("{}{}", all.empty() ? ": " : ", ", plan::shown(name));
  return all.empty() ? "" : ", it has" + all;
}

Asked asked(const GisLayer& layer, const LayerRule& rule) {
  Asked a;
  for (size_t role = 0; role < role_count; ++role) {
    const RoleRule& r = rule.roles[role];
    const std::vector<int32_t> fields = fields_of(layer, r);
    if (fields.empty() && r.missing) {
      a.faults.push_back(*r.missing);
      a.faults.back().message += with_suggestion(r, layer);
    }
    for (const int32_t field : fields) {
      a.roles[role].push_back(static_cast<int32_t>(a.fields.size()));
      a.fields.push_back(field);
    }
  }
  return a;
}

class VectorReader {
 public:
  VectorReader(const std::filesystem::path& path, const VectorOptions& options, const Map& before)
      : path_(path), options_(options), before_(before), others_(median_place(before)) {}

  plan::Diagnostics read(OpeningMap opening, const std::vector<LayerRule>& rules) {
    try {
      const std::unique_ptr<GisReader> opened = opening.get();
      GisReader& reader = *opened;
      for (int32_t i = 0; i < reader.layers() && faults_.empty(); ++i) read_layer(reader, i, rules);
      if (reader.layers() == 0) fault("no layer in it");
    } catch (const BadMap& bad) {
      const std::string where = bad.feature < 0 ? "" : fmt::format("feature {}: ", bad.feature);
      fault(where + bad.what());
    }
    return faults_;
  }

  std::vector<Map> layers;
  VectorCounts counts;

 private:
  void fault(std::string message) {
    faults_.push_back(plan::diagnostic({path_.string(), 0, 0}, std::move(message)));
  }

  const LayerRule* rule_of(const std::vector<LayerRule>& rules, const GisLayer& layer) const {
    if (options_.mapping.empty()) return &rules[0];
    for (const LayerRule& rule : rules)
      if (rule.layer == layer.name) return &rule;
    return nullptr;
  }
  // Files of JSON always claim longitude and latitude.
  bool unnamed(const GisLayer& layer) const {
    return layer.system == gis_no_system || lower(path_.string()).find("json") != std::string::npos ||
           lower(layer.file).find("json") != std::string::npos;
  }

  void read_layer(GisReader& reader, int32_t index, const std::vector<LayerRule>& rules) {
    const GisLayer layer = reader.layer(index);
    const LayerRule* rule = rule_of(rules, layer);
    const bool only = reader.layers() == 1;
    Map& map = layers.emplace_back();
    map.sources.push_back(
        {only ? path_.string() : fmt::format("{}, {}", path_.string(), plan::shown(layer.name)), "", false, 0,
         0, 0, 0});
    const auto source = static_cast<uint16_t>(before_.sources.size() + layers.size() - 1);
    if (!rule)
      map.remarks.push_back({RemarkKind::left_out,
                             "layer that the mapping file does not name",
                             {source, MapKind::feature, 0},
                             {},
                             std::string(plan::shown(layer.name))});
    if (!rule || rule->holds == Holds::nothing) return;
    if (options_.metres && !unnamed(layer))
      return fault(fmt::format("layer '{}' has a coordinate system ({}) and cannot be mixed with bare metres",
                               plan::shown(layer.name), plan::shown(layer.system_name)));
    const Asked a = asked(layer, *rule);
    faults_.insert(faults_.end(), a.faults.begin(), a.faults.end());
    if (!faults_.empty()) return;
    VectorTake take(*rule, a.roles, static_cast<int32_t>(a.fields.size()),
                    {path_.string(), only ? "" : layer.name, source, options_.metres, !unnamed(layer)}, map);
    run(reader, index, a, take);
    settle(take, map, layer.name);
  }

  void run(GisReader& reader, int32_t index, const Asked& a, VectorTake& take) {
    GisBlock block{};
    try {
      reader.begin(index, a.fields, options_.metres ? gis_as_stored : gis_degrees);
      GisAhead ahead(reader);
      while (ahead.next(block) && take.take(block)) {
      }
    } catch (const BadMap& bad) {
      take.fault(bad.feature, bad.what());
    }
  }

  void settle(const VectorTake& take, Map& map, const std::string& layer) {
    map.sources[0].features = take.counts.features;
    counts.features += take.counts.features, counts.without_place += take.counts.without_place;
    faults_.insert(faults_.end(), take.faults.begin(), take.faults.end());
    if (!take.faults.empty()) return;
    const std::string swapped = options_.metres ? "" : swapped_axes(map, others_);
    if (!swapped.empty()) fault(fmt::format("layer '{}' {}", plan::shown(layer), swapped));
    if (!others_) others_ = median_place(map);
  }

  const std::filesystem::path& path_;
  const VectorOptions& options_;
  const Map& before_;
  std::optional<MapPlace> others_;
  plan::Diagnostics faults_;
};

template <class T>
void move_to(std::vector<T>& from, std::vector<T>& to) {
  if (to.empty()) return to.swap(from);
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

void append(Map&& from, Map& to) {
  move_to(from.sources, to.sources);
  move_to(from.streets, to.streets);
  move_to(from.buildings, to.buildings);
  move_to(from.addresses, to.addresses);
  move_to(from.plots, to.plots);
  move_to(from.barriers, to.barriers);
  move_to(from.ducts, to.ducts);
  move_to(from.remarks, to.remarks);
}

plan::Result<std::vector<LayerRule>> rules_of(const VectorOptions& options) {
  if (options.mapping.empty()) return plan::good(std::vector<LayerRule>{default_rule()});
  constexpr uint64_t most = 1u << 20;
  auto text = read_file(options.mapping, most);
  if (!text) return {{}, text.diagnostics};
  return read_mapping(options.mapping, std::move(*text));
}

}  // namespace

bool is_vector_name(const std::filesystem::path& path) {
  std::string name = lower(path.filename().string());
  if (name.ends_with(".zip")) return !name.ends_with(".hgt.zip") && !name.ends_with(".tif.zip");
  if (name.ends_with(".gz")) name.resize(name.size() - 3);
  return std::any_of(endings.begin(), endings.end(), [&](std::string_view e) { return name.ends_with(e); });
}

OpeningMap open_vector(const std::filesystem::path& path) {
  return std::async(std::launch::async, [path]() -> std::unique_ptr<GisReader> {
    if (!refuse_map_path(path).empty()) return nullptr;
    return std::make_unique<GisReader>(path);
  });
}

plan::Result<VectorCounts> read_vector(const std::filesystem::path& path, const VectorOptions& options,
                                       Map& map) {
  return read_vector(path, options, open_vector(path), map);
}

plan::Result<VectorCounts> read_vector(const std::filesystem::path& path, const VectorOptions& options,
                                       OpeningMap opening, Map& map) {
  if (plan::Diagnostics refused = refuse_map_path(path); !refused.empty()) return {{}, refused};
  const auto rules = rules_of(options);
  if (!rules) return {{}, rules.diagnostics};
  if (!map.sources.empty() && map.geographic == options.metres)
    return plan::failed<VectorCounts>(
        plan::diagnostic({path.string(), 0, 0}, "metres and degrees cannot be mixed in one map"));
  VectorReader reader(path, options, map);
  if (plan::Diagnostics faults = reader.read(std::move(opening), *rules); !faults.empty())
    return {{}, faults};
  map.geographic = !options.metres;
  for (Map& layer : reader.layers) append(std::move(layer), map);
  return plan::good(reader.counts);
}

}  // namespace withy
