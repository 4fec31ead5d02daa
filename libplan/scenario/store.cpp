#include "scenario/store.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace plan {

namespace {

constexpr size_t longest_text = 500;

void fault(Reading& r, NodeRef n, const auto& make) {
  r.faults.add([&] { return r.tree->fault(n, make()); });
}
std::string expected_of(const Field& f) {
  if (f.kind == Kind::choice) return alternatives(f.words);
  if (f.kind == Kind::reference) return fmt::format("the name of a {}", what_is(f.refers));
  return expected(f.kind);
}
bool misfit(Reading& r, NodeRef n, const Field& f) {
  fault(r, n, [&] {
    return fmt::format("'{}' is {}, expected {}", f.key, found_text(*r.tree, n), expected_of(f));
  });
  return false;
}

std::string range_end(const Field& f, double value) {
  if (is_amount(f.kind)) return amount_text(f.kind, value);
  return value == std::round(value) ? fixed(value, 0) : shortest(value);
}
bool in_range(Reading& r, NodeRef n, const Field& f, double value) {
  const double slack = 1e-12 * std::max(1.0, std::abs(value));
  if (value >= f.least - slack && value <= f.most + slack) return true;
  fault(r, n, [&] {
    const std::string text = shown(r.tree->text(n));
    if (std::isinf(f.most))
      return fmt::format("'{}' is {}, expected at least {}", f.key, text, range_end(f, f.least));
    if (std::isinf(f.least))
      return fmt::format("'{}' is {}, expected at most {}", f.key, text, range_end(f, f.most));
    return fmt::format("'{}' is {}, expected {} to {}", f.key, text, range_end(f, f.least),
                       range_end(f, f.most));
  });
  return false;
}

template <class T>
void put(void* member, T value) {
  *static_cast<T*>(member) = std::move(value);
}

void put_amount(Kind kind, void* member, double v) {
  switch (kind) {
    case Kind::length:
      return put(member, metres(v));
    case Kind::loss:
      return put(member, decibels(v));
    case Kind::attenuation:
      return put(member, decibels_per_kilometre(v));
    case Kind::level:
      return put(member, dbm(v));
    case Kind::pressure:
      return put(member, bar_gauge(v));
    case Kind::force:
      return put(member, newtons(v));
    case Kind::linear_mass:
      return put(member, grams_per_metre(v));
    case Kind::stiffness:
      return put(member, newton_square_metres(v));
    case Kind::temperature:
      return put(member, celsius(v));
    case Kind::angle:
      return put(member, radians(v));
    case Kind::speed:
      return put(member, metres_per_minute(v));
    case Kind::work:
      return put(member, minutes(std::llround(v)));
    case Kind::wavelength:
      return put(member, Wavelength{static_cast<int>(std::llround(v))});
    case Kind::days:
      return put(member, static_cast<int>(std::llround(v)));
    default:
      return put(member, v);  // share, winding, minutes: plain numbers
  }
}

bool whole_kind(Kind k) {
  return k == Kind::work || k == Kind::days || k == Kind::wavelength;
}

bool store_amount(Reading& r, NodeRef n, const Field& f, void* member) {
  const auto value = read_amount(f.kind, r.tree->text(n));
  if (!value) return misfit(r, n, f);
  if (!in_range(r, n, f, *value)) return false;
  if (std::abs(*value) > 1e12 ||
      (whole_kind(f.kind) && (*value != std::round(*value) || std::abs(*value) > 1e9))) {
    fault(r, n, [&] {
      return fmt::format("'{}' is {}, expected a whole number of {}", f.key, shown(r.tree->text(n)),
                         dimension(f.kind).units[0].name);
    });
    return false;
  }
  if (member) put_amount(f.kind, member, *value);
  return true;
}

bool store_number(Reading& r, NodeRef n, const Field& f, void* member) {
  const bool whole = f.kind == Kind::whole;
  const auto value = read_number(r.tree->text(n));
  if (!value || (whole && !read_whole(r.tree->text(n))) || (r.tree->quoted(n) && !r.table))
    return misfit(r, n, f);
  if (!in_range(r, n, f, *value)) return false;
  if (member && whole) put(member, static_cast<int>(*value));
  if (member && !whole) put(member, *value);
  return true;
}

bool store_text(Reading& r, NodeRef n, const Field& f, void* member) {
  const std::string_view text = r.tree->text(n);
  if (f.required && trimmed(text).empty()) {
    fault(r, n, [&] { return fmt::format("'{}' is empty", f.key); });
    return false;
  }
  const bool control = holds_control(text);
  if (text.size() > longest_text || control) {
    fault(r, n, [&] {
      return control
                 ? fmt::format("'{}' holds a control character", f.key)
                 : fmt::format("'{}' has {} bytes, expected at most {}", f.key, text.size(), longest_text);
    });
    return false;
  }
  if (member) put(member, std::string(text));
  return true;
}

bool store_choice(Reading& r, NodeRef n, const Field& f, void* member) {
  const std::string_view text = r.tree->text(n);
  for (size_t i = 0; i < f.words.size(); ++i) {
    if (f.words[i] != text) continue;
    if (member) *static_cast<uint8_t*>(member) = static_cast<uint8_t>(i);
    return true;
  }
  fault(r, n, [&] {
    return fmt::format("'{}' is '{}', expected {}{}", f.key, shown(text), alternatives(f.words),
                       suggestion(text, f.words));
  });
  return false;
}

bool store_reference(Reading& r, NodeRef n, const Field& f, void* member) {
  const std::string_view text = r.tree->text(n);
  const uint32_t id = r.names.find(f.refers, text);
  if (id == UINT32_MAX) {
    fault(r, n, [&] {
      return fmt::format("unknown {} '{}'{}", what_is(f.refers), shown(text),
                         r.names.suggestion(f.refers, text));
    });
    return false;
  }
  if (f.kept == Kept::text) put(member, std::string(text));
  if (f.kept == Kept::id) *static_cast<uint32_t*>(member) = id;
  if (f.kept == Kept::index) put(member, static_cast<int>(id));
  return true;
}

template <class T>
bool store_parsed(Reading& r, NodeRef n, const Field& f, void* member, std::optional<T> value) {
  if (!value) return misfit(r, n, f);
  if (member) put(member, std::move(*value));
  return true;
}

bool store_date(Reading& r, NodeRef n, const Field& f, void* member) {
  const Date earliest = date_of(2000, 1, 1), latest = date_of(2199, 12, 31);
  const auto date = parse_date(r.tree->text(n));
  if (!date || (*date >= earliest && *date <= latest)) return store_parsed(r, n, f, member, date);
  fault(r, n, [&] {
    return fmt::format("'{}' is {}, expected {} to {}", f.key, iso(*date), iso(earliest), iso(latest));
  });
  return false;
}

bool store_price(Reading& r, NodeRef n, const Field& f, void* member) {
  auto price = read_price(r.tree->text(n));
  if (price && !in_range(r, n, f, static_cast<double>(price->price.ten_thousandths) / 1e4)) return false;
  return store_parsed(r, n, f, member, std::move(price));
}

bool store_yes_no(Reading& r, NodeRef n, const Field& f, void* member) {
  const std::string_view text = r.tree->text(n);
  if (text != "yes" && text != "no") return misfit(r, n, f);
  if (member) put(member, text == "yes");
  return true;
}

}  // namespace

bool holds_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') || c == 0x7F;
  });
}

bool store_scalar(Reading& r, NodeRef n, const Field& f, void* member) {
  if (f.kind == Kind::position || f.kind == Kind::line) return store_geometry(r, n, f, member);
  if (r.tree->kind(n) != TreeKind::scalar) return misfit(r, n, f);
  const std::string_view text = r.tree->text(n);
  if (is_amount(f.kind)) return store_amount(r, n, f, member);
  switch (f.kind) {
    case Kind::yes_no:
      return store_yes_no(r, n, f, member);
    case Kind::choice:
      return store_choice(r, n, f, member);
    case Kind::date:
      return store_date(r, n, f, member);
    case Kind::whole:
    case Kind::number:
      return store_number(r, n, f, member);
    case Kind::ratio: {
      const auto ratio = read_ratio(text);
      return ratio && !in_range(r, n, f, *ratio) ? false : store_parsed(r, n, f, member, ratio);
    }
    case Kind::price:
      return store_price(r, n, f, member);
    case Kind::output:
      return store_parsed(r, n, f, member, read_output(text));
    case Kind::reference:
      return store_reference(r, n, f, member);
    default:
      return store_text(r, n, f, member);
  }
}

}  // namespace plan
