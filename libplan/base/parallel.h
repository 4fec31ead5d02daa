// Work over 0 … n-1 in chunks of a size fixed by the task, so that any number of threads gives the
// same bytes: each index writes its own slot; whoever folds does it in index order.
//
//   for_each_chunk(run, n, 1024, [&](size_t first, size_t last) { for (i …) out[i] = f(i); });
#pragma once
#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <thread>
#include <vector>

#include "base/run.h"

namespace plan {

// An exception in a chunk is thrown again here, the one of the first chunk in order.
template <class F>
void for_each_chunk(const Run& run, size_t n, size_t chunk, F&& work) {
  const size_t chunks = (n + chunk - 1) / chunk;
  const auto one = [&](size_t k) { work(k * chunk, std::min(n, (k + 1) * chunk)); };
  if (run.threads <= 1 || chunks <= 1) {
    for (size_t k = 0; k < chunks; ++k) one(k);
    return;
  }
  std::vector<std::exception_ptr> failed(chunks);
  std::atomic<size_t> next{0};
  const auto loop = [&] {
    for (size_t k = next++; k < chunks; k = next++) {
      try {
        one(k);
      } catch (...) {
        failed[k] = std::current_exception();
      }
    }
  };
  {
    std::vector<std::thread> pool;
    for (size_t t = 1; t < std::min<size_t>(static_cast<size_t>(run.threads), chunks); ++t)
      pool.emplace_back(loop);
    loop();
    for (std::thread& t : pool) t.join();
  }
  for (const std::exception_ptr& e : failed)
    if (e) std::rethrow_exception(e);
}

}  // namespace plan
