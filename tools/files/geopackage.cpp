#include "files/geopackage.h"

#include <limits>
#include <system_error>

#include "base/check.h"
#include "files/disk.h"
#include "files/gis.h"

namespace withy {

PackageLayer::PackageLayer(std::string name, int32_t epsg, bool lines,
                           std::vector<std::pair<std::string, GisColumn>> columns)
    : name_(std::move(name)), epsg_(epsg), lines_(lines), columns_(std::move(columns)) {}

void PackageLayer::add(std::span<const std::string> values, std::span<const PackagePlace> places) {
  PLAN_CHECK(values.size() == columns_.size() && !places.empty());
  ids_.push_back(static_cast<int64_t>(ids_.size()));
  shapes_.push_back(lines_ ? gis_line : gis_point);
  for (const std::string& value : values) {
    text_ += value;
    text_start_.push_back(static_cast<int64_t>(text_.size()));
  }
  for (const PackagePlace& p : places) {
    x_.push_back(p.x), y_.push_back(p.y);
    z_.push_back(p.z == PackagePlace::no_z ? std::numeric_limits<double>::quiet_NaN() : p.z);
  }
  place_start_.push_back(static_cast<int64_t>(x_.size()));
  start_.push_back(static_cast<int64_t>(ids_.size()));
}

void PackageLayer::with(const std::function<void(const GisWrite&, const GisBlock&)>& use) const {
  std::vector<const char*> names;
  std::vector<GisColumn> kinds;
  for (const auto& [name, kind] : columns_) names.push_back(name.c_str()), kinds.push_back(kind);
  const GisWrite what{
      name_.c_str(), epsg_,       lines_ ? gis_line : gis_point, static_cast<int32_t>(names.size()),
      names.data(),  kinds.data()};
  use(what, {static_cast<int64_t>(ids_.size()), ids_.data(), shapes_.data(), start_.data(), start_.data(),
             place_start_.data(), x_.data(), y_.data(), z_.data(), text_start_.data(), text_.data()});
}

namespace {

void must(const GisFault& fault, const std::filesystem::path& path) {
  if (fault.kind != gis_no_fault) throw OutsideFault(path.string() + ": " + fault.text);
}

}  // namespace

void write_geopackage(const std::filesystem::path& path, const std::string& date,
                      std::span<const PackageLayer> layers) {
  std::error_code error;
  std::filesystem::remove(path, error);
  GisFault fault{}, end{};
  GisWriter* writer = gis().create(std::filesystem::absolute(path).c_str(), date.c_str(), &fault);
  must(fault, path);
  for (const PackageLayer& layer : layers)
    if (fault.kind == gis_no_fault)
      layer.with([&](const GisWrite& what, const GisBlock& rows) {
        gis().write_layer(writer, &what, &rows, &fault);
      });
  gis().finish(writer, &end);
  must(fault, path);
  must(end, path);
}

}  // namespace withy
