// Money in whole minor units (cents) and prices fine enough for a metre of fibre unit.
//
//   UnitPrice p{1550};                                   // 0.155 a metre
//   Money m = p.times_metres(metres(1200));              // 186.00, rounded once, half up
//
// Currency is one per scenario and never converted; it is printed, not stored with each amount.
#pragma once
#include <cstdint>

#include "base/quantity.h"

namespace plan {

struct Money {
  int64_t cents = 0;
  friend constexpr bool operator==(Money, Money) = default;
  friend constexpr auto operator<=>(Money, Money) = default;
  friend constexpr Money operator+(Money a, Money b) { return {a.cents + b.cents}; }
  friend constexpr Money operator-(Money a, Money b) { return {a.cents - b.cents}; }
  friend constexpr Money operator*(Money a, int64_t n) { return {a.cents * n}; }
  constexpr Money& operator+=(Money b) { return *this = *this + b; }
};

// A price per metre or per piece, in ten-thousandths of a currency unit.
struct UnitPrice {
  int64_t ten_thousandths = 0;
  friend constexpr bool operator==(UnitPrice, UnitPrice) = default;
  friend constexpr auto operator<=>(UnitPrice, UnitPrice) = default;
  friend constexpr UnitPrice operator+(UnitPrice a, UnitPrice b) {
    return {a.ten_thousandths + b.ten_thousandths};
  }
  friend constexpr UnitPrice operator*(UnitPrice a, int64_t n) { return {a.ten_thousandths * n}; }

  constexpr Money times_pieces(int64_t n) const { return {(ten_thousandths * n + 50) / 100}; }
  // Exact up to 90,000 km at 10,000 a metre.
  constexpr Money times_metres(Length l) const {
    return {(ten_thousandths * to_whole_millimetres(l) + 50000) / 100000};
  }
};

}  // namespace plan
