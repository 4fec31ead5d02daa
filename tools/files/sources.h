// Which files a scenario was read from, with their hashes: a plan folder carries the list, so that a
// later command knows whether it still speaks of the same estate.
#pragma once
#include <cstdint>
#include <map>
#include <string>

#include "scenario/scenario.h"

namespace withy {

struct Source {
  uint64_t bytes = 0, hash = 0;
  friend bool operator==(const Source&, const Source&) = default;
};

struct Sources {
  std::string scenario;                 // the path it was read by
  std::map<std::string, Source> files;  // by path, as read
};

// disk_files() that also notes every file it opened.
plan::Files noting_files(Sources& sources);

// sources.csv: path, bytes, hash; the scenario's own file first.
std::string sources_text(const Sources& sources);
// What sources.csv says. Empty where it is malformed.
Sources read_sources(std::string_view text);

}  // namespace withy
