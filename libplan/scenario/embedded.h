// The files of scenario/data, compiled into the library so that no file is opened at run time.
// The build writes the source (scenario/embed.cmake); a changed or added data file is built in again.
#pragma once
#include <span>
#include <string_view>

namespace plan {

struct EmbeddedFile {
  std::string_view name;  // without a folder: "catalogue.yaml"
  std::string_view text;  // the bytes of the file
};

// Sorted by name; the views live as long as the program.
std::span<const EmbeddedFile> embedded_files();

}  // namespace plan
