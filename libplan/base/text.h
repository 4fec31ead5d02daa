// Small text helpers shared by readers and writers.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/money.h"
#include "base/quantity.h"

namespace plan {

// Fixed decimals, '.' as the point, "-0.00" never: fixed(3.14159, 2) = "3.14".
std::string fixed(double value, int decimals);
// Shortest text that reads back as the same double.
std::string shortest(double value);
// "1234.50", no thousands mark.
std::string amount(Money m);
// Metres with `decimals`, rounded half away from zero from whole millimetres: "12.5".
std::string metres_text(Length l, int decimals);
// "1 finding", "2 findings"; a noun that ends in "s" is its own plural: "1 premises".
std::string counted(uint64_t count, std::string_view noun);
// The candidate nearest to `word` by edit distance, if near enough to be meant (at most a third of
// its letters, at least one); ties go to the first.
std::optional<std::string_view> nearest_name(std::string_view word,
                                             std::span<const std::string_view> candidates);
std::vector<std::string_view> split(std::string_view text, char separator);
std::string_view trimmed(std::string_view text);
bool valid_utf8(std::string_view text);
// How many bytes at the front of `text` are whole UTF-8 characters.
size_t utf8_bytes(std::string_view text);
// `text` as a message may quote it: at most 60 characters, then "...", control characters as '?'.
std::string shown(std::string_view text);
// 64-bit FNV-1a: a stable hash for ids and file checks, not for secrets.
uint64_t hash64(std::string_view text, uint64_t seed = 14695981039346656037ULL);
std::string hex16(uint64_t h);

}  // namespace plan
