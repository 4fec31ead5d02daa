#include "gis/guard.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_http.h>
#include <cpl_string.h>
#include <gdal_frmts.h>
#include <ogr_srs_api.h>
#include <ogrsf_frmts.h>

#include <algorithm>
#include <cstring>
#include <mutex>

namespace withy {

Heard::Heard() {
  CPLPushErrorHandlerEx(reinterpret_cast<CPLErrorHandler>(&Heard::hear), this);
  CPLErrorReset();
}

Heard::~Heard() {
  CPLPopErrorHandler();
}

void Heard::hear(int level, int, const char* text) {
  auto* self = static_cast<Heard*>(CPLGetErrorHandlerUserData());
  if (level < CE_Failure || self->failed_) return;
  self->failed_ = true;
  self->text_ = text;
}

namespace {

// Names that we made for GDAL ("GeoJSONSeq:/vsigzip//town.gz", "/vsimem/withy-…") are nothing to a reader.
std::string without_our_paths(std::string text) {
  for (const std::string ours : {"GeoJSONSeq:/", "/vsi"})
    for (size_t at = text.find(ours); at != std::string::npos; at = text.find(ours, at + 1)) {
      const size_t end = std::min(text.find_first_of(" '`\":,)", at + ours.size()), text.size());
      text.replace(at, end - at, "the file");
    }
  return text;
}

}  // namespace

std::string Heard::first() const {
  std::string text = without_our_paths(text_).substr(0, 300);
  for (char& c : text)
    if (static_cast<unsigned char>(c) < ' ' || static_cast<unsigned char>(c) > '~') c = '?';
  while (!text.empty() && (text.back() == '.' || text.back() == ' ')) text.pop_back();
  return text.empty() ? "not readable" : text;
}

void put(GisFault* fault, GisFaultKind kind, const std::string& text, int64_t feature) {
  fault->kind = kind;
  fault->feature = feature;
  const size_t length = std::min(text.size(), sizeof fault->text - 1);
  std::memcpy(fault->text, text.data(), length);
  fault->text[length] = '\0';
}

namespace {

// A file may name its coordinate system by an address in a net: it is not asked.
CPLHTTPResult* fetch_nothing(const char*, CSLConstList, GDALProgressFunc, void*, CPLHTTPFetchWriteFunc, void*,
                             void*) {
  auto* refused = static_cast<CPLHTTPResult*>(CPLCalloc(1, sizeof(CPLHTTPResult)));
  refused->nStatus = 1;
  refused->pszErrBuf = CPLStrdup("nothing is fetched from a net");
  CPLError(CE_Failure, CPLE_AppDefined, "%s", refused->pszErrBuf);
  return refused;
}

void register_drivers() {
  RegisterOGRGeoPackage();
  RegisterOGRGeoJSON();
  RegisterOGRGeoJSONSeq();
  RegisterOGRShape();
  GDALRegister_GTiff();
  GDALRegister_SRTMHGT();
  OSRSetPROJEnableNetwork(0);
  CPLHTTPSetFetchCallback(fetch_nothing, nullptr);
  const char* const settings[][2] = {
      {"GDAL_PAM_ENABLED", "NO"},  // no file beside a file is read or written
      {"GDAL_GEOREF_SOURCES", "INTERNAL"},
      // A place that does not come back to where it was has no place in the other system.
      {"CHECK_WITH_INVERT_PROJ", "YES"},
      {"OGR_SQLITE_LOAD_EXTENSIONS", nullptr},
      {"SHAPE_RESTORE_SHX", "NO"},
      {"CPL_VSIL_GZIP_WRITE_PROPERTIES", "NO"},
      {"CPL_CURL_ENABLE_VSIMEM", "NO"}};
  for (const auto& setting : settings) CPLSetConfigOption(setting[0], setting[1]);
}

}  // namespace

void prepare() {
  static std::once_flag once;
  std::call_once(once, register_drivers);
}

}  // namespace withy
