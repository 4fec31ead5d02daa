#include "estate/dwellings.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <tuple>
#include <vector>

#include "base/text.h"

namespace withy {
namespace {

constexpr int most_dwellings = 10'000;
constexpr int most_levels = 200;

std::optional<int> whole(std::string_view text) {
  int value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

bool is_letter(std::string_view text) {
  return text.size() == 1 && ((text[0] >= 'a' && text[0] <= 'z') || (text[0] >= 'A' && text[0] <= 'Z'));
}

// A piece of a list: "5" or "5-7" or "a-d".
int64_t pieces(std::string_view text) {
  const size_t dash = text.find('-');
  if (dash == std::string_view::npos) return 1;
  const std::string_view first = plan::trimmed(text.substr(0, dash));
  const std::string_view last = plan::trimmed(text.substr(dash + 1));
  if (is_letter(first) && is_letter(last)) return std::max(1, (last[0] | 32) - (first[0] | 32) + 1);
  const std::optional<int> a = whole(first), b = whole(last);
  return a && b && *b >= *a ? int64_t{*b} - *a + 1 : 1;
}

template <class F>
void each_piece(std::string_view text, F f) {
  while (true) {
    const size_t end = text.find_first_of(",;");
    const std::string_view piece = plan::trimmed(text.substr(0, end));
    if (!piece.empty()) f(piece);
    if (end == std::string_view::npos) return;
    text.remove_prefix(end + 1);
  }
}

// Addresses of one text are one: a shop and a door often repeat their number.
struct Stated {
  int different = 0;
  int64_t dwellings = 0;
  bool any = false;
};
Stated stated_by(const Map& map, std::span<const uint32_t> addresses) {
  const auto text = [&](uint32_t i) {
    const MapAddress& a = map.addresses[i];
    return std::tie(a.street, a.number, a.unit);
  };
  std::vector<uint32_t> order(addresses.begin(), addresses.end());
  if (order.size() > 1)
    std::sort(order.begin(), order.end(),
              [&](uint32_t i, uint32_t j) { return text(i) != text(j) ? text(i) < text(j) : i < j; });
  Stated stated;
  for (size_t i = 0; i < order.size();) {
    int most = 0;
    size_t j = i;
    for (; j < order.size() && text(order[j]) == text(order[i]); ++j)
      most = std::max(most, dwellings_in(map.addresses[order[j]].dwellings).value_or(0));
    ++stated.different;
    stated.any |= most > 0;
    stated.dwellings += std::max(most, 1);
    i = j;
  }
  return stated;
}

int capped(int64_t dwellings) {
  return static_cast<int>(std::clamp<int64_t>(dwellings, 1, most_dwellings));
}

}  // namespace

std::optional<int> dwellings_in(std::string_view text) {
  text = plan::trimmed(text);
  if (const std::optional<int> number = whole(text))
    return *number >= 1 && *number <= most_dwellings ? number : std::nullopt;
  int64_t sum = 0;
  each_piece(text, [&](std::string_view piece) { sum += pieces(piece); });
  if (sum < 1 || sum > most_dwellings) return std::nullopt;
  return static_cast<int>(sum);
}

std::optional<int> levels_in(std::string_view text) {
  int most = 0;
  each_piece(text, [&](std::string_view piece) {
    double value = 0;
    const auto [end, fault] = std::from_chars(piece.data(), piece.data() + piece.size(), value);
    if (fault == std::errc() && value >= 1 && value <= most_levels)
      most = std::max(most, static_cast<int>(std::ceil(value)));
  });
  return most > 0 ? std::optional(most) : std::nullopt;
}

bool is_flats(const MapBuilding& b) {
  const auto says = [](std::string_view text) {
    return text == "apartments" || text == "residential" || text == "dormitory";
  };
  return says(b.kind) || says(b.use);
}

Dwellings dwellings_of(const Map& map, std::span<const uint32_t> addresses, const MapBuilding* building,
                       double area, const PremisesRules& rules) {
  const Stated stated = stated_by(map, addresses);
  if (stated.any) return {capped(stated.dwellings), "stated at its addresses", Known::mapped};
  if (stated.different > 1) return {capped(stated.different), "one for each address", Known::mapped};
  if (building != nullptr) {
    if (const std::optional<int> flats = dwellings_in(building->flats))
      return {*flats, "flats stated at the building", Known::mapped};
    const std::optional<int> levels = levels_in(building->levels);
    if (levels && is_flats(*building))
      return {capped(std::llround(std::min(1e9, *levels * area / rules.area_per_dwelling))),
              "levels times area of a building of flats", Known::assumed};
  }
  return {1, "one, nothing stated", Known::assumed};
}

}  // namespace withy
