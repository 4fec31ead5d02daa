#include "base/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <numeric>

namespace plan {

std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text[0] == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string shortest(double value) {
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return std::string(buffer.data(), end);
}

std::string amount(Money m) {
  const int64_t whole = std::abs(m.cents) / 100, rest = std::abs(m.cents) % 100;
  return fmt::format("{}{}.{:02}", m.cents < 0 ? "-" : "", whole, rest);
}

std::string metres_text(Length l, int decimals) {
  int64_t unit = 1000;
  for (int i = 0; i < decimals; ++i) unit /= 10;
  const int64_t mm = std::abs(to_whole_millimetres(l));
  const int64_t steps = unit > 0 ? (mm + unit / 2) / unit : mm;
  const int64_t per_metre = unit > 0 ? 1000 / unit : 1000;
  std::string text = steps != 0 && to_whole_millimetres(l) < 0 ? "-" : "";
  text += fmt::format("{}", steps / per_metre);
  if (decimals > 0) text += fmt::format(".{:0{}}", steps % per_metre, std::min(decimals, 3));
  return text;
}

namespace {
size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), size_t{0});
  for (size_t i = 1; i <= a.size(); ++i) {
    size_t diagonal = row[0];
    row[0] = i;
    for (size_t j = 1; j <= b.size(); ++j) {
      const size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
    }
  }
  return row[b.size()];
}
}  // namespace

std::string counted(uint64_t count, std::string_view noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 || noun.ends_with('s') ? "" : "s");
}

std::optional<std::string_view> nearest_name(std::string_view word,
                                             std::span<const std::string_view> candidates) {
  if (word.size() > 100) return {};
  size_t best = std::max<size_t>(1, word.size() / 3) + 1;
  std::optional<std::string_view> found;
  for (const std::string_view candidate : candidates) {
    if (candidate.size() > word.size() + best || word.size() > candidate.size() + best) continue;
    if (const size_t d = edit_distance(word, candidate); d < best) best = d, found = candidate;
  }
  return found;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  for (size_t first = 0;;) {
    const size_t end = text.find(separator, first);
    parts.push_back(text.substr(first, end == std::string_view::npos ? end : end - first));
    if (end == std::string_view::npos) return parts;
    first = end + 1;
  }
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blank = " \t\r\n";
  const size_t first = text.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blank) - first + 1);
}

size_t utf8_bytes(std::string_view text) {
  const auto byte = [&](size_t i) { return static_cast<unsigned char>(text[i]); };
  size_t i = 0;
  while (i < text.size()) {
    const unsigned c = byte(i);
    const size_t more = c < 0x80                 ? 0
                        : c >= 0xC2 && c <= 0xDF ? 1
                        : (c & 0xF0) == 0xE0     ? 2
                        : c >= 0xF0 && c <= 0xF4 ? 3
                                                 : text.size();
    if (i + more >= text.size()) return i;
    for (size_t k = 1; k <= more; ++k)
      if ((byte(i + k) & 0xC0) != 0x80) return i;
    const unsigned second = more > 0 ? byte(i + 1) : 0;
    if ((c == 0xE0 && second < 0xA0) || (c == 0xED && second > 0x9F) || (c == 0xF0 && second < 0x90) ||
        (c == 0xF4 && second > 0x8F))
      return i;
    i += more + 1;
  }
  return i;
}

bool valid_utf8(std::string_view text) {
  return utf8_bytes(text) == text.size();
}

std::string shown(std::string_view text) {
  constexpr size_t most = 60;
  std::string out;
  size_t characters = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0) != 0x80 && ++characters > most) return out + "...";
    out += byte < 0x20 || byte == 0x7F ? '?' : c;
  }
  return out;
}

uint64_t hash64(std::string_view text, uint64_t seed) {
  for (const char c : text) seed = (seed ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return seed;
}

std::string hex16(uint64_t h) {
  return fmt::format("{:016x}", h);
}

}  // namespace plan
