// What every function of the table stands in: GDAL's messages are kept instead of printed, and nothing
// is thrown out of the module.
#pragma once
#include <cstdint>
#include <exception>
#include <new>
#include <stdexcept>
#include <string>
#include <type_traits>

#include "gis/gis_table.h"

namespace withy {

// Thrown inside the module, turned into a GisFault at its door.
class GisError : public std::runtime_error {
 public:
  GisError(GisFaultKind kind_, const std::string& text, int64_t feature_ = -1)
      : std::runtime_error(text), kind(kind_), feature(feature_) {}
  GisFaultKind kind;
  int64_t feature;
};
[[noreturn]] inline void bad(const std::string& text, int64_t feature = -1) {
  throw GisError(gis_bad_data, text, feature);
}
[[noreturn]] inline void outside(const std::string& text) {
  throw GisError(gis_outside, text);
}

// GDAL's messages while it lives, on this thread.
class Heard {
 public:
  Heard();
  ~Heard();
  Heard(const Heard&) = delete;
  Heard& operator=(const Heard&) = delete;
  bool failed() const { return failed_; }
  // The first failure in our wording: lower-case start, no full stop, no paths of ours.
  std::string first() const;

 private:
  static void hear(int level, int number, const char* text);
  bool failed_ = false;
  std::string text_;
};

void put(GisFault* fault, GisFaultKind kind, const std::string& text, int64_t feature = -1);

// Registers the drivers, once.
void prepare();

// Nothing reaches the terminal: what `work` leaves unheard is a fault where it returns whether it went well.
template <class Work>
auto guarded(GisFault* fault, Work work) -> decltype(work()) {
  put(fault, gis_no_fault, "");
  try {
    prepare();
    const Heard unheard;
    auto result = work();
    if constexpr (std::is_same_v<decltype(result), bool>)
      if (unheard.failed()) bad(unheard.first());
    return result;
  } catch (const GisError& e) {
    put(fault, e.kind, e.what(), e.feature);
  } catch (const std::bad_alloc&) {
    put(fault, gis_outside, "out of memory");
  } catch (const std::exception& e) {
    put(fault, gis_bad_data, e.what());
  }
  return {};
}

}  // namespace withy
