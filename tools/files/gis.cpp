#include "files/gis.h"

#include <dlfcn.h>
#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstring>
#include <system_error>

#include "base/text.h"
#include "files/disk.h"

namespace withy {
namespace {

constexpr const char* module_name = "withy_gis.so";

const GisTable* load() {
  std::error_code error;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
  const std::filesystem::path folder = program.parent_path();
  std::string why = "not found";
  for (const auto& path : {folder / module_name, folder.parent_path() / "lib" / module_name,
                           folder.parent_path() / "lib" / "withy" / module_name}) {
    if (!std::filesystem::exists(path, error)) continue;
    void* module = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (!module) {
      why = dlerror();
      break;
    }
    using Door = const GisTable* (*)(int32_t);
    const auto door = reinterpret_cast<Door>(dlsym(module, "withy_gis_table"));
    const GisTable* table = door ? door(gis_table_version) : nullptr;
    if (table) return table;
    why = path.string() + " belongs to another version";
    break;
  }
  throw OutsideFault(fmt::format(
      "the module for map formats, {}, beside the program or in its lib folder: {}", module_name, why));
}

// "NAME:" in front, as GDAL's own data set names have it.
bool named_prefix(std::string_view path) {
  const size_t colon = path.find(':');
  if (colon == 0 || colon == std::string_view::npos) return false;
  const std::string_view name = path.substr(0, colon);
  return std::all_of(name.begin(), name.end(),
                     [](unsigned char c) { return std::isalnum(c) != 0 || c == '_'; });
}

}  // namespace

const GisTable& gis() {
  static const GisTable& table = *load();
  return table;
}

plan::Diagnostics refuse_map_path(const std::filesystem::path& path) {
  const std::string& text = path.native();
  if (text.starts_with("/vsi") || named_prefix(text) || text.find('\0') != std::string::npos)
    return {plan::diagnostic({}, fmt::format("'{}' is no path of a file", plan::shown(text)))};
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) throw OutsideFault(text + ": file not found");
  if (std::filesystem::is_directory(status)) throw OutsideFault(text + ": this is a folder, expected a file");
  if (!std::filesystem::is_regular_file(status)) throw OutsideFault(text + ": not a regular file");
  if (access(path.c_str(), R_OK) != 0) throw OutsideFault(text + ": cannot be read: " + std::strerror(errno));
  if (std::filesystem::file_size(path) == 0) return {plan::diagnostic({text, 0, 0}, "file says nothing")};
  return {};
}

void pass_on(const GisFault& fault, const std::filesystem::path& path) {
  if (fault.kind == gis_outside) throw OutsideFault(path.string() + ": " + fault.text);
  if (fault.kind == gis_bad_data) throw BadMap(fault.text, fault.feature);
}

// The whole path from the root: nothing that GDAL could take for a name of its own.
GisReader::GisReader(const std::filesystem::path& path) : path_(path) {
  GisFault fault{};
  source_ = gis().open(std::filesystem::absolute(path).c_str(), &fault);
  pass_on(fault, path_);
}

GisReader::~GisReader() {
  if (source_) gis().close(source_);
}

GisLayer GisReader::layer(int32_t index) {
  GisFault fault{};
  GisLayer layer{};
  gis().layer(source_, index, &layer, &fault);
  pass_on(fault, path_);
  return layer;
}

void GisReader::begin(int32_t index, std::span<const int32_t> fields, GisPlaces places) {
  GisFault fault{};
  gis().begin(source_, index, fields.data(), static_cast<int32_t>(fields.size()), places, &fault);
  pass_on(fault, path_);
}

bool GisReader::next(GisBlock& block) {
  GisFault fault{};
  const bool more = gis().next(source_, &block, &fault);
  pass_on(fault, path_);
  return more;
}

}  // namespace withy
