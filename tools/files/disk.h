// Bytes in and out: the only room that touches the disk. What fails here is the outside world's
// fault, is thrown as OutsideFault, and ends the program with exit code 3.
#pragma once
#include <cstdint>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "base/result.h"

namespace withy {

class OutsideFault : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// The whole of a regular file of at most `limit` bytes. A missing, unreadable or too large file is a
// diagnostic at the file, never an exception.
plan::Result<std::string> read_file(const std::filesystem::path& path, uint64_t limit);

// A file of an own plan folder: must be there.
std::string must_read(const std::filesystem::path& path);

}  // namespace withy
