// The files of tools/estate/data, compiled in as those of libplan are (scenario/embedded.h).
#pragma once
#include <span>

#include "scenario/embedded.h"

namespace withy {

using plan::EmbeddedFile;
std::span<const EmbeddedFile> embedded_files();

}  // namespace withy
