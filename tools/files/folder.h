// The output folder: complete or untouched. Files are written into a new folder beside it; publishing
// exchanges the two names in one step and then removes the old content. A folder that Withy did not
// write (no contents.csv of its own) is refused before anything is computed.
//
//   OutputFolder out("plans/village");     // throws OutsideFault: not ours, cannot be made
//   { auto sink = out.file("spans.csv"); sink("…"); }
//   out.publish();                         // without it the destructor leaves everything as it was
#pragma once
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <string>

#include "base/csv.h"

namespace withy {

class OutputFolder {
 public:
  explicit OutputFolder(std::filesystem::path target);
  ~OutputFolder();
  OutputFolder(const OutputFolder&) = delete;
  OutputFolder& operator=(const OutputFolder&) = delete;

  // Opens a file for writing ("sheets/crew-1.txt" makes the folder). The sink may be copied; the file
  // closes with its last copy. A failed write throws OutsideFault.
  plan::Sink file(const std::string& name);
  void write(const std::string& name, std::string_view text) { file(name)(text); }
  // Ends writing: what follows may read the files.
  void close_files();
  // Where the files are until published: the plan checker reads them there.
  const std::filesystem::path& working() const { return working_; }
  // Writes contents.csv (file, bytes, hash) and exchanges the folders.
  void publish();

 private:
  struct Written;
  std::filesystem::path target_, working_;
  std::map<std::string, std::shared_ptr<Written>> files_;
  bool published_ = false;
};

// True where the folder carries a contents.csv that Withy wrote.
bool is_plan_folder(const std::filesystem::path& folder);
// The header line of contents.csv, by which a folder is known as ours.
std::string_view contents_header();

}  // namespace withy
