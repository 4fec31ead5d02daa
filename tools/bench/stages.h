// What all measurements print: a line a step with its seconds and the process's peak memory so far.
#pragma once
#include <chrono>
#include <functional>
#include <string>
#include <string_view>

#include "plan/plan.h"

namespace withy {

class Stopwatch {
 public:
  void again() { begin_ = Clock::now(); }
  double seconds() const { return std::chrono::duration<double>(Clock::now() - begin_).count(); }

 private:
  using Clock = std::chrono::steady_clock;
  Clock::time_point begin_ = Clock::now();
};

void print_step(std::string_view what, double seconds);
void print_fact(std::string_view text);

// A run that prints every stage as it ends.
plan::Run printing_run(int threads);

// Plans and writes a scenario, checks what was written, and prints the stages with the sizes of the network.
struct Planning {
  std::string scenario, folder;
  int threads = 1;
};
void plan_in_steps(const plan::Files& files, const Planning& planning);

// A process of its own, so that its peak memory is its own. False where it failed.
bool in_child(const std::function<void()>& work);

}  // namespace withy
