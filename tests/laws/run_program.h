// Starts the built program in a folder of its own and tells what came of it.
//
//   const Scratch scratch;
//   const Ended e = run_program(scratch, {"plan", "row.yaml", "--out", "plan"});
//   CHECK(e.code == 0);   CHECK(e.error == "");   CHECK(e.output.starts_with("no findings"));
#pragma once
#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace plan {

// An empty folder that goes away again.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, std::string_view text) const;
  std::string read(const std::string& name) const;
  bool has(const std::string& name) const { return std::filesystem::exists(path_ / name); }
  // Every file below `folder`, by its name from there.
  std::map<std::string, std::string> folder(const std::string& name) const;
  // What stands in the scratch folder itself, sorted, hidden names too.
  std::vector<std::string> names() const;

 private:
  std::filesystem::path path_;
};

struct Ended {
  int code = 0;  // minus the signal where one ended it
  std::string output, error;
};

// Standard output and error are files: the program sees no terminal.
Ended run_program(const Scratch& in, const std::vector<std::string>& arguments);

// Starts it, sends SIGTERM as soon as its working folder (a hidden one) stands in the scratch folder, and
// waits.
Ended interrupt_program(const Scratch& in, const std::vector<std::string>& arguments);

}  // namespace plan
