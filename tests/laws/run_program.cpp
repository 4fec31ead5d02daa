#include "laws/run_program.h"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <sstream>

extern char** environ;

namespace plan {
namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

// Files beside the scratch folder, so that its own names stay as the program left them.
fs::path beside(const Scratch& in, const char* ending) {
  return in.path().string() + ending;
}

pid_t started(const Scratch& in, const std::vector<std::string>& arguments) {
  std::vector<std::string> words{WITHY_BINARY};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> raw;
  for (std::string& word : words) raw.push_back(word.data());
  raw.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  REQUIRE(posix_spawn_file_actions_init(&actions) == 0);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  constexpr int fresh = O_WRONLY | O_CREAT | O_TRUNC;
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, beside(in, ".out").c_str(), fresh, 0644);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, beside(in, ".err").c_str(), fresh, 0644);
  posix_spawn_file_actions_addchdir_np(&actions, in.path().c_str());
  pid_t child = 0;
  const int failed = posix_spawn(&child, WITHY_BINARY, &actions, nullptr, raw.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  REQUIRE(failed == 0);
  return child;
}

Ended ended(const Scratch& in, pid_t child) {
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  Ended e;
  e.code = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  e.output = text_of(beside(in, ".out"));
  e.error = text_of(beside(in, ".err"));
  return e;
}

}  // namespace

Scratch::Scratch() {
  std::string pattern = (fs::temp_directory_path() / "withy-laws-XXXXXX").string();
  REQUIRE(mkdtemp(pattern.data()) != nullptr);
  path_ = pattern;
}

Scratch::~Scratch() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
  fs::remove(beside(*this, ".out"), ignored);
  fs::remove(beside(*this, ".err"), ignored);
}

void Scratch::write(const std::string& name, std::string_view text) const {
  fs::create_directories((path_ / name).parent_path());
  std::ofstream(path_ / name, std::ios::binary) << text;
}

std::string Scratch::read(const std::string& name) const {
  REQUIRE_MESSAGE(has(name), name);
  return text_of(path_ / name);
}

std::map<std::string, std::string> Scratch::folder(const std::string& name) const {
  std::map<std::string, std::string> texts;
  if (!has(name)) return texts;
  for (const auto& entry : fs::recursive_directory_iterator(path_ / name))
    if (entry.is_regular_file())
      texts[fs::relative(entry.path(), path_ / name).generic_string()] = text_of(entry.path());
  return texts;
}

std::vector<std::string> Scratch::names() const {
  std::vector<std::string> all;
  for (const auto& entry : fs::directory_iterator(path_)) all.push_back(entry.path().filename().string());
  std::sort(all.begin(), all.end());
  return all;
}

Ended run_program(const Scratch& in, const std::vector<std::string>& arguments) {
  return ended(in, started(in, arguments));
}

Ended interrupt_program(const Scratch& in, const std::vector<std::string>& arguments) {
  const pid_t child = started(in, arguments);
  const auto working = [&] {
    const std::vector<std::string> names = in.names();
    return std::any_of(names.begin(), names.end(),
                       [](const std::string& name) { return name.front() == '.'; });
  };
  for (int tries = 0; tries < 60'000 && !working(); ++tries) usleep(1000);
  kill(child, SIGTERM);
  return ended(in, child);
}

}  // namespace plan
