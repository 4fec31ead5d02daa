// A folder of a test's own, gone with it.
//
//   ScratchFolder folder;
//   read(folder.write("town.geojson", text));
#pragma once
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace withy {

class ScratchFolder {
 public:
  ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "withy-test-XXXXXX").string();
    path_ = mkdtemp(name.data());
  }
  ~ScratchFolder() { std::filesystem::remove_all(path_); }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  std::string at(const std::string& name) const { return (path_ / name).string(); }
  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(at(name), std::ios::binary) << text;
    return at(name);
  }

 private:
  std::filesystem::path path_;
};

}  // namespace withy
