// Invariants of our own code. A broken one is a bug of Withy, never of the user's data: it throws,
// only `main` catches, says so plainly and exits with 70.
#pragma once
#include <stdexcept>
#include <string>

namespace plan {

class BrokenInvariant : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

[[noreturn]] inline void broken_invariant(const char* what, const char* file, int line) {
  throw BrokenInvariant(std::string(what) + " (" + file + ":" + std::to_string(line) + ")");
}

}  // namespace plan

#define PLAN_CHECK(condition) \
  ((condition) ? static_cast<void>(0) : ::plan::broken_invariant(#condition, __FILE__, __LINE__))
