#include "files/folder.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <system_error>
#include <utility>

#include "base/text.h"
#include "files/disk.h"

namespace withy {
namespace fs = std::filesystem;

struct OutputFolder::Written {
  std::FILE* file = nullptr;
  std::string path;
  uint64_t bytes = 0;
  uint64_t hash = plan::hash64("");

  Written() = default;
  Written(const Written&) = delete;
  Written& operator=(const Written&) = delete;
  ~Written() {
    if (file) std::fclose(file);
  }
  void write(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), file) != text.size()) fail();
    bytes += text.size();
    hash = plan::hash64(text, hash);
  }
  void close() {
    if (file && std::fclose(std::exchange(file, nullptr)) != 0) fail();
  }
  [[noreturn]] void fail() const { throw OutsideFault(fmt::format("{}: {}", path, std::strerror(errno))); }
};

namespace {

fs::path without_slash(fs::path p) {
  return p.has_filename() ? p : p.parent_path();
}

fs::path make_working(const fs::path& target) {
  const fs::path parent = target.has_parent_path() ? target.parent_path() : fs::path(".");
  std::error_code error;
  fs::create_directories(parent, error);
  std::string pattern = (parent / ("." + target.filename().string() + ".part-XXXXXX")).string();
  if (!mkdtemp(pattern.data()))
    throw OutsideFault(
        fmt::format("{}: cannot make a folder here: {}", parent.string(), std::strerror(errno)));
  ::chmod(pattern.c_str(), 0755);
  return pattern;
}

}  // namespace

std::string_view contents_header() {
  return "file,bytes,hash of this Withy plan\r\n";
}

bool is_plan_folder(const fs::path& folder) {
  const auto contents = read_file(folder / "contents.csv", uint64_t{1} << 30);
  return contents && std::string_view(*contents).starts_with(contents_header());
}

OutputFolder::OutputFolder(fs::path target) : target_(without_slash(std::move(target))) {
  if (target_.empty()) throw OutsideFault("the output folder has no name");
  std::error_code error;
  const auto status = fs::symlink_status(target_, error);
  if (fs::exists(status)) {
    if (!fs::is_directory(status)) throw OutsideFault(target_.string() + ": is not a folder");
    if (!fs::is_empty(target_, error) && !is_plan_folder(target_))
      throw OutsideFault(target_.string() +
                         ": Withy did not write this folder and leaves it alone; name another");
  }
  working_ = make_working(target_);
}

OutputFolder::~OutputFolder() {
  std::error_code ignored;
  files_.clear();
  if (!published_) fs::remove_all(working_, ignored);
}

plan::Sink OutputFolder::file(const std::string& name) {
  const fs::path path = working_ / name;
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  auto written = std::make_shared<Written>();
  written->path = path.string();
  written->file = std::fopen(path.c_str(), "wb");
  if (!written->file) written->fail();
  files_[name] = written;
  return [written](std::string_view text) { written->write(text); };
}

void OutputFolder::close_files() {
  for (const auto& [name, written] : files_) written->close();
}

void OutputFolder::publish() {
  close_files();
  std::string contents(contents_header());
  for (const auto& [name, written] : files_) {
    contents += fmt::format("{},{},{}\r\n", name, written->bytes, plan::hex16(written->hash));
  }
  write("contents.csv", contents);
  files_["contents.csv"]->close();
  if (renameat2(AT_FDCWD, working_.c_str(), AT_FDCWD, target_.c_str(), RENAME_NOREPLACE) == 0) {
    published_ = true;
    return;
  }
  if (errno != EEXIST ||
      renameat2(AT_FDCWD, working_.c_str(), AT_FDCWD, target_.c_str(), RENAME_EXCHANGE) != 0)
    throw OutsideFault(fmt::format("{}: cannot publish: {}", target_.string(), std::strerror(errno)));
  published_ = true;
  std::error_code ignored;
  fs::remove_all(working_, ignored);  // now the old content
}

}  // namespace withy
