// The blocks of one layer, read by a thread of their own while the block before is looked at.
//
//   GisAhead ahead(reader);          // after reader.begin(…)
//   while (ahead.next(block)) take(block);
#pragma once
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

#include "files/gis.h"

namespace withy {

// One thread for the whole layer: libraries keep states a thread that are dear to set up.
class GisAhead {
 public:
  explicit GisAhead(GisReader& reader) : reader_(reader), thread_([this] { read(); }) {}
  ~GisAhead();
  GisAhead(const GisAhead&) = delete;
  GisAhead& operator=(const GisAhead&) = delete;

  // As GisReader::next, which nobody else may call meanwhile; the block is good until the next call. Throws
  // what that threw.
  bool next(GisBlock& block);

 private:
  enum class Turn { reader, taker, over };
  void read();
  bool wait_for(Turn turn, std::unique_lock<std::mutex>& lock);
  void pass_to(Turn turn);

  GisReader& reader_;
  std::mutex mutex_;
  std::condition_variable changed_;
  Turn turn_ = Turn::reader;
  GisBlock block_{};
  bool more_ = true;
  std::exception_ptr failed_;
  std::thread thread_;  // last: it uses all of the above
};

}  // namespace withy
