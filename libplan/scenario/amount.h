// Amounts as they are written: a number, one space, a unit ("12.5 m", "-27 dBm", "0.155 EUR/m").
// One row a dimension says which units are read and what is expected where nothing fits.
//
//   read_amount(Kind::length, "3.5 mm")  ->  0.0035 (metres)      in the first unit of the row, factor 1
//   read_amount(Kind::length, "3.5")     ->  nothing
//   expected(Kind::length)               ->  "a length with its unit, such as 12.5 m"
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/money.h"
#include "scenario/works.h"

namespace plan {

// What a value of the language is.
enum class Kind : uint8_t {
  text,
  yes_no,
  choice,
  date,
  whole,
  number,
  ratio,
  share,
  days,
  length,
  loss,
  attenuation,
  level,
  pressure,
  force,
  linear_mass,
  stiffness,
  temperature,
  angle,
  winding,
  speed,
  work,
  minutes,
  wavelength,
  price,
  output,
  position,
  line,
  reference,
  mapping,
  fragment
};

struct Unit {
  std::string_view name;
  double factor;  // to the row's base unit
};
struct Dimension {
  std::string_view what, example;  // "a length", "12.5 m"
  std::span<const Unit> units;     // the first is the one that ranges are printed in
};
// Of a kind from `share` to `wavelength`.
const Dimension& dimension(Kind kind);
bool is_amount(Kind kind);

// Decimal numbers only, no leading zeros, nothing around them; nothing for what is not finite.
std::optional<double> read_number(std::string_view text);
std::optional<int64_t> read_whole(std::string_view text);
std::optional<double> read_amount(Kind kind, std::string_view text);
// "a length with its unit, such as 12.5 m"
std::string expected(Kind kind);
// An amount in the unit of its row that prints shortest around 1: "3.5 mm", "120 m".
std::string amount_text(Kind kind, double value);

// "1:32" -> 32
std::optional<int> read_ratio(std::string_view text);

// "0.155 EUR/m", "800 EUR each", "45 EUR/h".
struct WrittenPrice {
  UnitPrice price;
  PriceUnit per = PriceUnit::piece;
  std::string currency;
};
std::optional<WrittenPrice> read_price(std::string_view text);

// Output of a crew-day: "100 m", "3 pieces", "12 premises".
struct WrittenOutput {
  double amount = 0;
  std::string unit;
};
std::optional<WrittenOutput> read_output(std::string_view text);

// The pattern of JSON Schema that the written forms match.
std::string pattern(Kind kind);

}  // namespace plan
