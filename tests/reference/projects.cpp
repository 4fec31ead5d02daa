// One-pass rules and bounds on PSPLIB (Kolisch & Sprecher, EJOR 96, 1997).
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "solve/projects.h"

using namespace plan;

namespace {

const std::string folder = std::string(WITHY_REFERENCE_DATA) + "/psplib/";

struct Instance {
  Project project;
  int64_t critical_path = 0, horizon = 0, arcs = 0;
};

// The first number of a line that holds `word`, after the colon.
int64_t number_after(const std::string& text, const std::string& word) {
  const size_t at = text.find(':', text.find(word));
  return std::stoll(text.substr(at + 1));
}

// The text after a section's title and its header lines.
std::istringstream section(const std::string& text, const std::string& title, int headers) {
  size_t at = text.find(title);
  for (int i = 0; i <= headers; ++i) at = text.find('\n', at) + 1;
  return std::istringstream(text.substr(at));
}

Instance read(const std::filesystem::path& path) {
  std::ifstream in(path);
  std::stringstream all;
  all << in.rdbuf();
  const std::string text = all.str();
  Instance out;
  Project& p = out.project;
  const auto jobs = static_cast<size_t>(number_after(text, "jobs (incl."));
  const auto resources = static_cast<size_t>(number_after(text, "- renewable"));
  out.horizon = number_after(text, "horizon");
  int64_t skipped = 0;
  std::istringstream info = section(text, "PROJECT INFORMATION", 1);
  for (int i = 0; i < 5; ++i) info >> skipped;
  info >> out.critical_path;
  p.successors.resize(jobs);
  std::istringstream arcs = section(text, "PRECEDENCE RELATIONS", 1);
  for (auto& row : p.successors) {
    size_t job = 0, modes = 0, n = 0;
    arcs >> job >> modes >> n;
    for (uint32_t s = 0; n > 0; --n) {
      arcs >> s;
      row.push_back(s - 1);
      CHECK(s > job);
      ++out.arcs;
    }
  }
  std::istringstream demands = section(text, "REQUESTS/DURATIONS", 2);
  for (size_t j = 0; j < jobs; ++j) {
    int64_t job = 0, mode = 0, duration = 0, demand = 0;
    demands >> job >> mode >> duration;
    p.durations.push_back(duration);
    for (size_t k = 0; k < resources; ++k) {
      demands >> demand;
      p.demands.push_back(demand);
    }
  }
  std::istringstream capacities = section(text, "RESOURCEAVAILABILITIES", 1);
  p.capacities.resize(resources);
  for (int64_t& c : p.capacities) capacities >> c;
  return out;
}

struct Known {
  int64_t best = 0, lower = 0;
};

std::map<std::string, Known> known_bounds() {
  std::map<std::string, Known> out;
  std::ifstream in(folder + "known_bounds.tsv");
  std::string row;
  std::getline(in, row);
  while (std::getline(in, row)) {
    std::istringstream fields(row);
    std::string name;
    Known k;
    fields >> name >> k.best >> k.lower;
    out[name] = k;
  }
  return out;
}

struct Sums {
  int64_t arcs = 0, horizon = 0, critical_path = 0, bound = 0, serial = 0, parallel = 0;
};

Sums sums_of(const std::string& set, const std::map<std::string, Known>& known) {
  Sums out;
  for (const auto& file : std::filesystem::directory_iterator(folder + set)) {
    if (file.path().extension() != ".sm") continue;
    const Instance i = read(file.path());
    const Known& best = known.at(file.path().stem().string());
    const int64_t critical_path = heads_and_tails(i.project).critical_path;
    const int64_t bound = head_tail_energy_bound(i.project);
    const int64_t serial = serial_by_latest_finish(i.project).length;
    const int64_t parallel = parallel_by_latest_finish(i.project).length;
    int64_t work = 0;
    for (const int64_t d : i.project.durations) work += d;
    CHECK(critical_path == i.critical_path);
    CHECK(work == i.horizon);
    CHECK(critical_path <= bound);
    CHECK(bound <= best.lower);
    CHECK(std::min(serial, parallel) >= best.best);
    out.arcs += i.arcs;
    out.horizon += i.horizon;
    out.critical_path += critical_path;
    out.bound += bound;
    out.serial += serial;
    out.parallel += parallel;
  }
  return out;
}

}  // namespace

TEST_CASE("one-pass rules and bounds on PSPLIB") {
  const std::map<std::string, Known> known = known_bounds();
  if (known.empty()) {
    MESSAGE("left out: " << folder << " is not there");
    return;
  }
  // Sums over instances _1 to _5 of every cell, derived by independent programs; the rules stand in
  // solve/projects.h.
  const std::map<std::string, Sums> expected{{"j30", {13920, 40110, 12656, 13041, 15089, 14956}},
                                             {"j60", {26880, 79568, 17580, 18310, 20571, 20431}},
                                             {"j120", {66000, 197105, 28506, 34248, 42068, 40860}}};
  for (const auto& row : expected) {
    const Sums& sums = row.second;
    CAPTURE(row.first);
    const Sums got = sums_of(row.first, known);
    CHECK(got.arcs == sums.arcs);
    CHECK(got.horizon == sums.horizon);
    CHECK(got.critical_path == sums.critical_path);
    CHECK(got.bound == sums.bound);
    CHECK(got.serial == sums.serial);
    CHECK(got.parallel == sums.parallel);
  }
}

TEST_CASE("single instances of PSPLIB") {
  if (!std::filesystem::exists(folder + "j30/j301_1.sm")) {
    MESSAGE("left out: " << folder << " is not there");
    return;
  }
  const Instance one = read(folder + "j30/j301_1.sm");
  CHECK(one.project.durations.size() == 32);                             // PSPLIB
  CHECK(one.horizon == 158);                                             // PSPLIB
  CHECK(one.project.capacities == std::vector<int64_t>{12, 13, 4, 12});  // PSPLIB
  CHECK(head_tail_energy_bound(one.project) == 38);                      // derived
  const std::map<std::string, std::pair<int64_t, int64_t>> lengths{
      {"j30/j301_1.sm", {49, 43}}, {"j60/j601_1.sm", {77, 86}}, {"j120/j1201_1.sm", {123, 126}}};  // derived
  for (const auto& [file, expected] : lengths) {
    const Instance i = read(folder + file);
    CHECK(serial_by_latest_finish(i.project).length == expected.first);
    CHECK(parallel_by_latest_finish(i.project).length == expected.second);
  }
}
