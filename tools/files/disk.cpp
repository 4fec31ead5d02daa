#include "files/disk.h"

#include <fmt/core.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <system_error>

namespace withy {
namespace {

plan::Result<std::string> fault(const std::filesystem::path& path, std::string message) {
  plan::Result<std::string> r;
  r.diagnostics.push_back({{path.string(), 0, 0}, std::move(message), "", 1});
  return r;
}

struct Close {
  void operator()(std::FILE* f) const { std::fclose(f); }
};

}  // namespace

plan::Result<std::string> read_file(const std::filesystem::path& path, uint64_t limit) {
  if (path.native().find('\0') != std::string::npos) return fault(path, "file not found");
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) return fault(path, "file not found");
  if (std::filesystem::is_directory(status)) return fault(path, "this is a folder, expected a file");
  if (!std::filesystem::is_regular_file(status)) return fault(path, "not a regular file");
  const uint64_t size = std::filesystem::file_size(path, error);
  if (error) return fault(path, "cannot be read: " + error.message());
  if (size > limit) return fault(path, fmt::format("file of {} bytes exceeds limit {} bytes", size, limit));
  const std::unique_ptr<std::FILE, Close> file(std::fopen(path.c_str(), "rb"));
  if (!file) return fault(path, fmt::format("cannot be read: {}", std::strerror(errno)));
  std::string text(size, '\0');
  const size_t got = std::fread(text.data(), 1, size, file.get());
  if (got != size) return fault(path, fmt::format("only {} of {} bytes could be read", got, size));
  return plan::good(std::move(text));
}

std::string must_read(const std::filesystem::path& path) {
  auto text = read_file(path, uint64_t{1} << 34);
  if (!text) throw OutsideFault(path.string() + ": " + text.diagnostics[0].message);
  return std::move(*text);
}

}  // namespace withy
