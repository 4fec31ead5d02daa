// Steiner instances in the .stp format, as SteinLib and the PACE 2018 challenge write it (T. Koch, A. Martin,
// S. Voss, "SteinLib", ZIB-Report 00-37; the challenge leaves out the first line).
#pragma once
#include <string>

#include "base/result.h"
#include "solve/steiner_solve.h"

namespace withy {

// Faults name the line. At most 10 million nodes and edges.
plan::Result<plan::SteinerProblem> read_stp(const std::string& path);

struct SteinerMeasure {
  std::string file;
  plan::SteinerEffort effort = plan::SteinerEffort::normal;
  double seconds = 0;  // go on so long; 0 = as the effort says
  int64_t steps = -1;  // repeat a run: exactly so many balls at most
  bool plain = false;  // Takahashi & Matsuyama's tree alone
};
// Prints value, lower bound, seconds and steps in one line.
int measure_steiner(const SteinerMeasure& measure);

}  // namespace withy
