#include "gis/source.h"

#include <cpl_string.h>
#include <cpl_vsi.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <future>
#include <utility>

namespace withy {
namespace {

struct Format {
  const char* ending;
  const char* driver;
};
constexpr Format formats[] = {{".gpkg", "GPKG"},           {".geojson", "GeoJSON"},
                              {".json", "GeoJSON"},        {".geojsonl", "GeoJSONSeq"},
                              {".geojsons", "GeoJSONSeq"}, {".ndjson", "GeoJSONSeq"},
                              {".shp", "ESRI Shapefile"}};

std::string without(std::string name, const std::string& ending) {
  if (lower(name).ends_with(ending)) name.resize(name.size() - ending.size());
  return name;
}

const Format& format_of(const std::string& path) {
  const std::string low = without(lower(path), ".gz");
  for (const Format& format : formats)
    if (low.ends_with(format.ending)) return format;
  bad("not a format that is read: expected .gpkg, .geojson, .geojsonl or .shp, each also as .gz or in a "
      ".zip");
}

// An unpacked copy in memory: a database is read here and there, and packed files only from the front.
std::string unpacked(GisSource& source, const std::string& packed) {
  constexpr size_t most = size_t{2} << 30;
  VSILFILE* in = VSIFOpenL(packed.c_str(), "rb");
  if (!in) bad("cannot be unpacked");
  std::string copy = "/vsimem/withy-" + std::to_string(reinterpret_cast<uintptr_t>(&source)) + "-" +
                     std::to_string(source.in_memory.size()) + ".gpkg";
  VSILFILE* out = VSIFOpenL(copy.c_str(), "wb");
  source.in_memory.push_back(copy);
  std::vector<char> bytes(1u << 20);
  size_t all = 0, got = 1;
  bool good = out != nullptr;
  while (good && got > 0 && all <= most) {
    got = VSIFReadL(bytes.data(), 1, bytes.size(), in);
    good = VSIFWriteL(bytes.data(), 1, got, out) == got;
    all += got;
  }
  if (out) VSIFCloseL(out);
  VSIFCloseL(in);
  if (all > most) bad("unpacks to more than 2 GiB");
  if (!good) outside("out of memory");
  return copy;
}

// A file of lines that was cut short is read on with bytes of an earlier block by GDAL 3.6: refused here,
// since each of its lines is an object.
void must_end_in_an_object(const std::string& path) {
  VSILFILE* in = VSIFOpenL(path.c_str(), "rb");
  if (!in) bad("cannot be unpacked");
  std::vector<char> bytes(1u << 20);
  constexpr size_t most = size_t{8} << 30;
  char last = '}';
  size_t all = 0;
  for (size_t got = 1; got > 0 && all <= most; all += got) {
    got = VSIFReadL(bytes.data(), 1, bytes.size(), in);
    for (size_t i = got; i > 0; --i)
      if (!std::isspace(static_cast<unsigned char>(bytes[i - 1]))) {
        last = bytes[i - 1];
        break;
      }
  }
  VSIFCloseL(in);
  if (all > most) bad("more than 8 GiB once unpacked");
  if (last != '}') bad("the file ends inside its last line");
}

// Beside the library, which reads the file through once to open it.
std::future<void> ends_in_an_object(const std::string& path) {
  return std::async(std::launch::async, [path] {
    const Heard heard;
    must_end_in_an_object(path);
  });
}

void open_file(GisSource& source, const Inner& inner, bool whole) {
  const Format& format = format_of(inner.name.empty() ? source.path : inner.name);
  const bool packed = inner.path.starts_with("/vsi");
  Heard heard;
  std::string path = inner.path;
  std::future<void> end;
  if (std::string_view(format.driver) == "GPKG" && packed) path = unpacked(source, path);
  if (std::string_view(format.driver) == "GeoJSONSeq") {
    if (whole) end = ends_in_an_object(path);
    path = "GeoJSONSeq:" + path;
  }
  const char* const drivers[] = {format.driver, nullptr};
  GDALDatasetUniquePtr file(
      GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, drivers));
  if (end.valid()) end.get();
  const std::string where = inner.name.empty() ? "" : "'" + inner.name + "' in the archive: ";
  if (!file || heard.failed())
    bad(where + "no " + format.driver + " file, or a damaged one" +
        (heard.failed() ? " (" + heard.first() + ")" : ""));
  for (OGRLayer* layer : file->GetLayers()) {
    OpenLayer& opened = source.layers.emplace_back();
    opened.layer = layer;
    opened.file = inner.name;
  }
  source.files.push_back(std::move(file));
}

// A stem "town" where the driver names a layer after a prefix or after nothing.
std::string layer_name(const GisSource& source, const OpenLayer& layer, bool only) {
  std::string name = layer.layer->GetName();
  const std::string file =
      std::filesystem::path(layer.file.empty() ? source.path : layer.file).filename().string();
  const std::string low = lower(without(file, ".gz"));
  if (!only || low.ends_with(".gpkg")) return name;
  std::string stem = without(file, ".gz");
  for (const Format& format : formats) stem = without(stem, format.ending);
  return stem;
}

void describe(GisSource& source) {
  for (OpenLayer& layer : source.layers) {
    size_t same = 0;
    for (const OpenLayer& other : source.layers) same += other.file == layer.file ? 1 : 0;
    layer.name = layer_name(source, layer, same == 1);
    if (const OGRSpatialReference* system = layer.layer->GetSpatialRef()) {
      const bool local = system->IsLocal() != 0 || system->IsEmpty();
      layer.system = local ? gis_no_system : system->IsGeographic() ? gis_geographic : gis_projected;
      if (const char* name = system->GetName()) layer.system_name = name;
      if (layer.system_name.starts_with("Undefined")) layer.system = gis_no_system;
    }
    OGRFeatureDefn* definition = layer.layer->GetLayerDefn();
    for (int i = 0; i < definition->GetFieldCount(); ++i)
      layer.fields.push_back(definition->GetFieldDefn(i)->GetNameRef());
    for (const std::string& field : layer.fields) layer.field_pointers.push_back(field.c_str());
  }
}

Transform transform_of(const OpenLayer& layer) {
  OGRSpatialReference from = *layer.layer->GetSpatialRef();
  from.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  OGRSpatialReference to = longitude_latitude();
  if (from.IsSame(&to)) return {};
  Heard heard;
  Transform transform(OGRCreateCoordinateTransformation(&from, &to));
  if (!transform)
    bad("no way from its coordinate system '" + layer.system_name + "' to longitude and latitude");
  return transform;
}

}  // namespace

OGRSpatialReference longitude_latitude() {
  OGRSpatialReference system;
  system.importFromEPSG(4326);
  system.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return system;
}

GisSource::~GisSource() {
  Heard heard;
  files.clear();
  for (const std::string& copy : in_memory) VSIUnlink(copy.c_str());
}

std::unique_ptr<GisSource> open_source(const std::string& path, bool whole) {
  auto source = std::make_unique<GisSource>();
  source->path = path;
  std::vector<std::string> endings;
  for (const Format& format : formats) endings.push_back(format.ending);
  if (!lower(path).ends_with(".zip")) format_of(path);
  for (const Inner& inner : inner_files(path, endings)) open_file(*source, inner, whole);
  const Heard heard;
  describe(*source);
  if (heard.failed()) bad(heard.first());
  return source;
}

void begin_layer(GisSource& source, size_t index, std::vector<int32_t> fields, GisPlaces places) {
  Heard heard;
  source.reading = &source.layers.at(index);
  source.fields = std::move(fields);
  source.transform.reset();
  source.yes_no.clear();
  OGRFeatureDefn* definition = source.reading->layer->GetLayerDefn();
  std::vector<bool> wanted(source.reading->fields.size());
  for (const int32_t field : source.fields) {
    wanted.at(static_cast<size_t>(field)) = true;
    source.yes_no.push_back(definition->GetFieldDefn(field)->GetSubType() == OFSTBoolean ? 1 : 0);
  }
  if (places == gis_degrees && source.reading->system != gis_no_system)
    source.transform = transform_of(*source.reading);
  std::vector<const char*> ignored;
  for (size_t i = 0; i < wanted.size(); ++i)
    if (!wanted[i]) ignored.push_back(source.reading->field_pointers[i]);
  ignored.push_back(nullptr);
  if (source.reading->layer->TestCapability(OLCIgnoreFields))
    source.reading->layer->SetIgnoredFields(ignored.data());
  source.reading->layer->ResetReading();
}

namespace {

void add_texts(GisSource& source, OGRFeature& feature) {
  for (size_t i = 0; i < source.fields.size(); ++i) {
    const int field = source.fields[i];
    const bool said = feature.IsFieldSetAndNotNull(field) != 0;
    if (said && source.yes_no[i])
      source.block().add_text(feature.GetFieldAsInteger(field) ? "yes" : "no");
    else
      source.block().add_text(said ? feature.GetFieldAsString(field) : "");
  }
}

}  // namespace

bool next_block(GisSource& source) {
  source.current = 1 - source.current;
  source.block().clear();
  if (!source.reading) return false;
  Heard heard;
  int64_t last = -1;
  while (!source.block().full()) {
    const OGRFeatureUniquePtr feature(source.reading->layer->GetNextFeature());
    if (heard.failed()) bad(heard.first(), feature ? feature->GetFID() : last < 0 ? -1 : last + 1);
    if (!feature) break;
    last = feature->GetFID();
    add_texts(source, *feature);
    source.block().add(last, feature->GetGeometryRef());
  }
  if (source.transform) source.block().transform(*source.transform);
  return !source.block().empty();
}

int64_t count_features_of(const std::string& path) {
  const auto source = open_source(path, false);
  Heard heard;
  int64_t count = 0;
  for (OpenLayer& opened : source->layers) {
    opened.layer->ResetReading();
    while (const OGRFeatureUniquePtr feature{opened.layer->GetNextFeature()}) ++count;
  }
  if (heard.failed()) bad(heard.first());
  return count;
}

}  // namespace withy
