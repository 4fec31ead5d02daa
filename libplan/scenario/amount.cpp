#include "scenario/amount.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "base/check.h"
#include "base/text.h"

namespace plan {

namespace {

constexpr double degree = 3.14159265358979323846 / 180.0;

constexpr Unit share_units[] = {{"%", 0.01}};
constexpr Unit day_units[] = {{"days", 1}};
constexpr Unit length_units[] = {{"m", 1}, {"mm", 0.001}, {"cm", 0.01}, {"km", 1000}};
constexpr Unit loss_units[] = {{"dB", 1}};
constexpr Unit attenuation_units[] = {{"dB/km", 1}};
constexpr Unit level_units[] = {{"dBm", 1}};
constexpr Unit pressure_units[] = {{"bar", 1}};
constexpr Unit force_units[] = {{"N", 1}};
constexpr Unit mass_units[] = {{"g/m", 1}, {"kg/km", 1}};
constexpr Unit stiffness_units[] = {{"N m2", 1}};
constexpr Unit temperature_units[] = {{"C", 1}};
constexpr Unit angle_units[] = {{"deg", degree}, {"rad", 1}};
constexpr Unit winding_units[] = {{"rad/m", 1}, {"deg/m", degree}};
constexpr Unit speed_units[] = {{"m/min", 1}};
constexpr Unit time_units[] = {{"min", 1}, {"h", 60}};
constexpr Unit wavelength_units[] = {{"nm", 1}};

constexpr Dimension dimensions[] = {
    {"a share", "15 %", share_units},
    {"a number of days", "28 days", day_units},
    {"a length", "12.5 m", length_units},
    {"a loss", "28 dB", loss_units},
    {"an attenuation", "0.36 dB/km", attenuation_units},
    {"a level", "+1.5 dBm", level_units},
    {"a gauge pressure", "10 bar", pressure_units},
    {"a force", "0.5 N", force_units},
    {"a mass per length", "1.1 g/m", mass_units},
    {"a bending stiffness", "0.0001 N m2", stiffness_units},
    {"a temperature", "20 C", temperature_units},
    {"an angle", "90 deg", angle_units},
    {"an angle per length", "0.01 rad/m", winding_units},
    {"a speed", "30 m/min", speed_units},
    {"a working time", "25 min", time_units},
    {"a time", "5 min", time_units},
    {"a wavelength", "1490 nm", wavelength_units},
};

bool digit(char c) {
  return c >= '0' && c <= '9';
}

// -?(0|[1-9][0-9]*)(.[0-9]+)?([eE][+-]?[0-9]+)?, with '+' allowed in front.
bool well_written(std::string_view t) {
  size_t i = 0;
  const auto digits = [&] {
    const size_t first = i;
    while (i < t.size() && digit(t[i])) ++i;
    return i - first;
  };
  if (!t.empty() && (t[0] == '-' || t[0] == '+')) ++i;
  const size_t first = i, count = digits();
  if (count == 0 || (count > 1 && t[first] == '0')) return false;
  if (i < t.size() && t[i] == '.' && (++i, digits() == 0)) return false;
  if (i < t.size() && (t[i] == 'e' || t[i] == 'E')) {
    if (++i < t.size() && (t[i] == '-' || t[i] == '+')) ++i;
    if (digits() == 0) return false;
  }
  return i == t.size();
}

template <class T>
std::optional<T> from_text(std::string_view text) {
  if (!text.empty() && text[0] == '+') text.remove_prefix(1);
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return {};
  return value;
}

}  // namespace

bool is_amount(Kind kind) {
  return kind >= Kind::share && kind <= Kind::wavelength;
}

const Dimension& dimension(Kind kind) {
  PLAN_CHECK(is_amount(kind));
  return dimensions[static_cast<size_t>(kind) - static_cast<size_t>(Kind::share)];
}

std::optional<double> read_number(std::string_view text) {
  if (!well_written(text)) return {};
  const auto value = from_text<double>(text);
  return value && std::isfinite(*value) ? value : std::nullopt;
}

std::optional<int64_t> read_whole(std::string_view text) {
  if (!well_written(text)) return {};
  return from_text<int64_t>(text);
}

std::optional<double> read_amount(Kind kind, std::string_view text) {
  const size_t space = text.find(' ');
  if (space == std::string_view::npos) return {};
  const auto number = read_number(text.substr(0, space));
  if (!number) return {};
  for (const Unit& u : dimension(kind).units) {
    if (u.name != text.substr(space + 1)) continue;
    const double value = *number * u.factor;
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
  }
  return {};
}

std::string expected(Kind kind) {
  switch (kind) {
    case Kind::text:
      return "a text";
    case Kind::yes_no:
      return "yes or no";
    case Kind::date:
      return "a date, such as 2027-03-01";
    case Kind::whole:
      return "a whole number";
    case Kind::number:
      return "a number";
    case Kind::ratio:
      return "a split ratio, such as 1:32";
    case Kind::price:
      return "a price with its currency and unit, such as 0.155 EUR/m, 800 EUR each or 45 EUR/h";
    case Kind::output:
      return "an output of one crew-day, such as 100 m, 3 pieces or 12 premises";
    case Kind::position:
      return "a position of two numbers, such as [12.5, 40]";
    case Kind::line:
      return "a line of at least two positions, such as [[0, 0], [12.5, 40]]";
    case Kind::mapping:
    case Kind::fragment:
      return "keys with values";
    default:
      return fmt::format("{} with its unit, such as {}", dimension(kind).what, dimension(kind).example);
  }
}

std::string amount_text(Kind kind, double value) {
  const Unit* unit = &dimension(kind).units[0];
  if (kind == Kind::length && value != 0 && std::abs(value) < 1) unit = &dimension(kind).units[1];
  return fmt::format("{} {}", shortest(std::round(value / unit->factor * 1e9) / 1e9), unit->name);
}

std::optional<int> read_ratio(std::string_view text) {
  if (text.substr(0, 2) != "1:") return {};
  const auto n = read_whole(text.substr(2));
  return n && *n > 0 && *n < 100000 ? std::optional(static_cast<int>(*n)) : std::nullopt;
}

std::optional<WrittenPrice> read_price(std::string_view text) {
  const size_t space = text.find(' ');
  if (space == std::string_view::npos) return {};
  const auto number = read_number(text.substr(0, space));
  const std::string_view rest = text.substr(space + 1);
  if (!number || rest.size() < 3 || std::abs(*number) > 1e14) return {};
  for (const char c : rest.substr(0, 3))
    if (c < 'A' || c > 'Z') return {};
  WrittenPrice p{{std::llround(*number * 1e4)}, PriceUnit::piece, std::string(rest.substr(0, 3))};
  const std::string_view per = rest.substr(3);
  if (per == "/m") {
    p.per = PriceUnit::metre;
  } else if (per == "/h") {
    p.per = PriceUnit::hour;
  } else if (per != " each") {
    return {};
  }
  return p;
}

std::optional<WrittenOutput> read_output(std::string_view text) {
  const size_t space = text.find(' ');
  if (space == std::string_view::npos) return {};
  const auto number = read_number(text.substr(0, space));
  const std::string_view unit = text.substr(space + 1);
  if (!number || (unit != "m" && unit != "pieces" && unit != "premises")) return {};
  return WrittenOutput{*number, std::string(unit)};
}

std::string pattern(Kind kind) {
  constexpr std::string_view number = R"(^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?)";
  switch (kind) {
    case Kind::date:
      return R"(^[0-9]{4}-[0-9]{2}-[0-9]{2}$)";
    case Kind::ratio:
      return R"(^1:[1-9][0-9]*$)";
    case Kind::price:
      return std::string(number) + R"( [A-Z]{3}(/m|/h| each)$)";
    case Kind::output:
      return std::string(number) + R"( (m|pieces|premises)$)";
    default:
      break;
  }
  std::string units;
  for (const Unit& u : dimension(kind).units) {
    if (!units.empty()) units += '|';
    units += u.name;
  }
  return fmt::format("{} ({})$", number, units);
}

}  // namespace plan
