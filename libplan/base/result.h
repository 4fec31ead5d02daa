// A value, or every diagnostic that kept it from being made.
#pragma once
#include <optional>
#include <utility>

#include "base/place.h"

namespace plan {

template <class T>
struct Result {
  std::optional<T> value;
  Diagnostics diagnostics;  // empty exactly when there is a value
  explicit operator bool() const { return value.has_value(); }
  T& operator*() { return *value; }
  const T& operator*() const { return *value; }
  T* operator->() { return &*value; }
  const T* operator->() const { return &*value; }
};

template <class T>
Result<T> good(T value) {
  return {std::move(value), {}};
}

// One diagnostic and no value. A message alone is the reason of a file that could not be read.
template <class T>
Result<T> failed(Diagnostic d) {
  Result<T> r;
  r.diagnostics.push_back(std::move(d));
  return r;
}
template <class T>
Result<T> failed(std::string message) {
  return failed<T>(diagnostic({}, std::move(message)));
}

}  // namespace plan
