#include "scenario/works.h"

#include <algorithm>

#include "scenario/words.h"

namespace plan {

const Price* Prices::find(std::string_view item) const {
  const auto at = std::lower_bound(list.begin(), list.end(), item,
                                   [](const Price& p, std::string_view name) { return p.item < name; });
  return at != list.end() && at->item == item ? &*at : nullptr;
}

std::string opening_item(std::string_view surface) {
  return "open " + std::string(surface);
}
std::string crossing_item(std::string_view crossing) {
  return "crossing " + std::string(crossing);
}

std::string_view task_name(TaskKind k) {
  return task_words[static_cast<size_t>(k)];
}

}  // namespace plan
