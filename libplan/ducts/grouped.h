// Pairs (id, value) as one list of values an id, order kept within each. O(n + pairs).
#pragma once
#include <utility>
#include <vector>

#include "base/id.h"

namespace plan {

template <class I, class V>
Lists<I, V> grouped(size_t n, const std::vector<std::pair<I, V>>& pairs) {
  std::vector<size_t> next(n + 1, 0);
  for (const auto& [id, value] : pairs) ++next[id.value + 1];
  for (size_t i = 1; i <= n; ++i) next[i] += next[i - 1];
  std::vector<size_t> first(next.begin(), next.end());
  std::vector<V> values(pairs.size());
  for (const auto& [id, value] : pairs) values[next[id.value]++] = value;
  Lists<I, V> lists;
  for (size_t i = 0; i < n; ++i)
    lists.add(std::span<const V>(values).subspan(first[i], first[i + 1] - first[i]));
  return lists;
}

}  // namespace plan
