#include "files/gis_ahead.h"

#include <utility>

namespace withy {

GisAhead::~GisAhead() {
  {
    const std::lock_guard lock(mutex_);
    turn_ = Turn::over;
  }
  changed_.notify_all();
  thread_.join();
}

// False where it is over instead.
bool GisAhead::wait_for(Turn turn, std::unique_lock<std::mutex>& lock) {
  changed_.wait(lock, [&] { return turn_ == turn || turn_ == Turn::over; });
  return turn_ == turn;
}

void GisAhead::pass_to(Turn turn) {
  if (turn_ != Turn::over) turn_ = turn;
  changed_.notify_all();
}

// Reads without the lock: the taker looks at the last block, and has left the one before it.
void GisAhead::read() {
  GisBlock block{};
  for (bool more = true; more;) {
    {
      std::unique_lock lock(mutex_);
      if (!wait_for(Turn::reader, lock)) return;
    }
    std::exception_ptr failed;
    try {
      more = reader_.next(block);
    } catch (...) {
      failed = std::current_exception();
      more = false;
    }
    const std::lock_guard lock(mutex_);
    block_ = block, more_ = more, failed_ = failed;
    pass_to(Turn::taker);
  }
}

bool GisAhead::next(GisBlock& block) {
  std::unique_lock lock(mutex_);
  if (!more_ || !wait_for(Turn::taker, lock)) return false;
  if (failed_) std::rethrow_exception(std::exchange(failed_, nullptr));
  block = block_;
  pass_to(Turn::reader);
  return more_;
}

}  // namespace withy
