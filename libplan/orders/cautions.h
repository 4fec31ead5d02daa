// What a work order says about safety: codes at each stop, expanded once for each crew-day, and a footer
// on every output. Planning aid only: local code, licensed practice and the site's own risk assessment
// prevail. The wording is Withy's own; `basis` names published rules where one is known to bear on it.
#pragma once
#include <cstdint>
#include <span>
#include <string_view>

#include "scenario/works.h"

namespace plan {

struct Caution {
  std::string_view code;     // "C1"
  std::string_view subject;  // "compressed air"
  std::string_view line;
  std::string_view basis;  // named rules, or "common practice"
};

std::span<const Caution> cautions();  // C1 … C10
// Bit k-1 = Ck. `in_chamber`: the place is a chamber that somebody reaches into or enters.
uint16_t caution_mask(TaskKind kind, bool in_chamber);
std::string_view caution_footer();

}  // namespace plan
