// Physical quantities as types. A unit exists only where an amount is made or read, so a mix of
// decibels and metres, or of gauge and absolute pressure, does not compile:
//
//   Length drum = metres(2000);              double m = in_metres(drum);
//   Level received = launch - loss;          Loss budget = launch - sensitivity;
//   Pressure inlet = bar_gauge(10);          double pa = in_pascals(inlet);   // absolute
//
// Length counts whole micrometres (a bore of 3.5 mm and a route of 1,000 km are both exact); lengths
// that are summed are first rounded to whole millimetres. The others wrap a double. A Level (dBm) is
// a point: level - loss = level, level - level = loss, level + level does not compile.
#pragma once
#include <cmath>
#include <cstdint>

namespace plan {

class Length {
 public:
  constexpr Length() = default;
  static constexpr Length of_micrometres(int64_t um) { return Length(um); }
  constexpr int64_t micrometres() const { return um_; }

  friend constexpr bool operator==(Length, Length) = default;
  friend constexpr auto operator<=>(Length, Length) = default;
  friend constexpr Length operator+(Length a, Length b) { return Length(a.um_ + b.um_); }
  friend constexpr Length operator-(Length a, Length b) { return Length(a.um_ - b.um_); }
  friend constexpr Length operator-(Length a) { return Length(-a.um_); }
  friend constexpr Length operator*(Length a, int64_t n) { return Length(a.um_ * n); }
  friend constexpr Length operator*(int64_t n, Length a) { return a * n; }
  friend constexpr double operator/(Length a, Length b) {
    return static_cast<double>(a.um_) / static_cast<double>(b.um_);
  }
  constexpr Length& operator+=(Length b) { return *this = *this + b; }
  constexpr Length& operator-=(Length b) { return *this = *this - b; }

 private:
  explicit constexpr Length(int64_t um) : um_(um) {}
  int64_t um_ = 0;
};

// Rounded half away from zero to the next micrometre.
inline Length metres(double m) {
  return Length::of_micrometres(std::llround(m * 1e6));
}
inline Length millimetres(double mm) {
  return Length::of_micrometres(std::llround(mm * 1e3));
}
constexpr Length whole_millimetres(int64_t mm) {
  return Length::of_micrometres(mm * 1000);
}
constexpr double in_metres(Length a) {
  return static_cast<double>(a.micrometres()) / 1e6;
}
constexpr double in_millimetres(Length a) {
  return static_cast<double>(a.micrometres()) / 1e3;
}
// Whole millimetres, rounded half away from zero: what is summed.
constexpr int64_t to_whole_millimetres(Length a) {
  const int64_t um = a.micrometres();
  return um >= 0 ? (um + 500) / 1000 : -((-um + 500) / 1000);
}
constexpr Length rounded_to_millimetres(Length a) {
  return whole_millimetres(to_whole_millimetres(a));
}
// `a` times a plain factor (a slack share, say), rounded to whole millimetres.
inline Length scaled(Length a, double factor) {
  return whole_millimetres(std::llround(in_millimetres(a) * factor));
}

// A double with a dimension. Tag names the dimension; sums and scalings keep it.
template <class Tag>
class Amount {
 public:
  constexpr Amount() = default;
  explicit constexpr Amount(double value) : value_(value) {}
  constexpr double raw() const { return value_; }  // in the base unit of the makers below

  friend constexpr bool operator==(Amount a, Amount b) { return a.value_ == b.value_; }
  friend constexpr bool operator!=(Amount a, Amount b) { return a.value_ != b.value_; }
  friend constexpr bool operator<(Amount a, Amount b) { return a.value_ < b.value_; }
  friend constexpr bool operator>(Amount a, Amount b) { return a.value_ > b.value_; }
  friend constexpr bool operator<=(Amount a, Amount b) { return a.value_ <= b.value_; }
  friend constexpr bool operator>=(Amount a, Amount b) { return a.value_ >= b.value_; }
  friend constexpr Amount operator+(Amount a, Amount b) { return Amount(a.value_ + b.value_); }
  friend constexpr Amount operator-(Amount a, Amount b) { return Amount(a.value_ - b.value_); }
  friend constexpr Amount operator-(Amount a) { return Amount(-a.value_); }
  friend constexpr Amount operator*(Amount a, double f) { return Amount(a.value_ * f); }
  friend constexpr Amount operator*(double f, Amount a) { return Amount(a.value_ * f); }
  friend constexpr double operator/(Amount a, Amount b) { return a.value_ / b.value_; }
  constexpr Amount& operator+=(Amount b) { return *this = *this + b; }

 private:
  double value_ = 0;
};

using Loss = Amount<struct LossTag>;                // dB, positive = loss
using Attenuation = Amount<struct AttenuationTag>;  // dB/km
using Force = Amount<struct ForceTag>;              // N
using LinearMass = Amount<struct LinearMassTag>;    // g/m = kg/km
using Stiffness = Amount<struct StiffnessTag>;      // N m2, bending
using Temperature = Amount<struct TemperatureTag>;  // degrees Celsius
using Angle = Amount<struct AngleTag>;              // rad
using Speed = Amount<struct SpeedTag>;              // m/min

constexpr Loss decibels(double db) {
  return Loss(db);
}
constexpr double in_decibels(Loss a) {
  return a.raw();
}
constexpr Attenuation decibels_per_kilometre(double a) {
  return Attenuation(a);
}
constexpr double in_decibels_per_kilometre(Attenuation a) {
  return a.raw();
}
inline Loss operator*(Attenuation a, Length l) {
  return decibels(a.raw() * in_metres(l) / 1000.0);
}
constexpr Force newtons(double n) {
  return Force(n);
}
constexpr double in_newtons(Force f) {
  return f.raw();
}
constexpr LinearMass grams_per_metre(double g) {
  return LinearMass(g);
}
constexpr double in_grams_per_metre(LinearMass m) {
  return m.raw();
}
constexpr Stiffness newton_square_metres(double ei) {
  return Stiffness(ei);
}
constexpr double in_newton_square_metres(Stiffness s) {
  return s.raw();
}
constexpr Temperature celsius(double t) {
  return Temperature(t);
}
constexpr double in_celsius(Temperature t) {
  return t.raw();
}
constexpr Angle radians(double a) {
  return Angle(a);
}
constexpr Angle degrees(double a) {
  return Angle(a * 3.14159265358979323846 / 180.0);
}
constexpr double in_radians(Angle a) {
  return a.raw();
}
constexpr double in_degrees(Angle a) {
  return a.raw() * 180.0 / 3.14159265358979323846;
}
constexpr Speed metres_per_minute(double v) {
  return Speed(v);
}
constexpr double in_metres_per_minute(Speed v) {
  return v.raw();
}

// Optical power, dBm. A point on a scale, not an amount.
class Level {
 public:
  constexpr Level() = default;
  friend constexpr Level dbm(double value);
  friend constexpr double in_dbm(Level a) { return value_of(a); }
  friend constexpr bool operator==(Level a, Level b) { return a.value_ == b.value_; }
  friend constexpr bool operator<(Level a, Level b) { return a.value_ < b.value_; }
  friend constexpr bool operator<=(Level a, Level b) { return a.value_ <= b.value_; }
  friend constexpr Level operator-(Level a, Loss b) { return Level(a.value_ - b.raw()); }
  friend constexpr Level operator+(Level a, Loss b) { return Level(a.value_ + b.raw()); }
  friend constexpr Loss operator-(Level a, Level b) { return Loss(a.value_ - b.value_); }

 private:
  explicit constexpr Level(double value) : value_(value) {}
  static constexpr double value_of(Level a) { return a.value_; }
  double value_ = 0;
};
constexpr Level dbm(double value) {
  return Level(value);
}

// Pressure, kept absolute in Pa. Gauge readings are above one standard atmosphere (101,325 Pa).
class Pressure {
 public:
  constexpr Pressure() = default;
  static constexpr Pressure of_pascals(double pa) { return Pressure(pa); }
  constexpr double pascals() const { return pa_; }
  friend constexpr bool operator==(Pressure a, Pressure b) { return a.pa_ == b.pa_; }
  friend constexpr bool operator<(Pressure a, Pressure b) { return a.pa_ < b.pa_; }
  friend constexpr bool operator>(Pressure a, Pressure b) { return a.pa_ > b.pa_; }
  friend constexpr bool operator<=(Pressure a, Pressure b) { return a.pa_ <= b.pa_; }

 private:
  explicit constexpr Pressure(double pa) : pa_(pa) {}
  double pa_ = 101325.0;
};
constexpr Pressure bar_gauge(double bar) {
  return Pressure::of_pascals(bar * 1e5 + 101325.0);
}
constexpr Pressure bar_absolute(double bar) {
  return Pressure::of_pascals(bar * 1e5);
}
constexpr double in_pascals(Pressure p) {
  return p.pascals();
}
constexpr double in_bar_gauge(Pressure p) {
  return (p.pascals() - 101325.0) / 1e5;
}

// Labour and working time, whole minutes.
class Work {
 public:
  constexpr Work() = default;
  static constexpr Work of_minutes(int64_t m) { return Work(m); }
  constexpr int64_t minutes() const { return minutes_; }
  friend constexpr bool operator==(Work, Work) = default;
  friend constexpr auto operator<=>(Work, Work) = default;
  friend constexpr Work operator+(Work a, Work b) { return Work(a.minutes_ + b.minutes_); }
  friend constexpr Work operator-(Work a, Work b) { return Work(a.minutes_ - b.minutes_); }
  friend constexpr Work operator*(Work a, int64_t n) { return Work(a.minutes_ * n); }
  constexpr Work& operator+=(Work b) { return *this = *this + b; }

 private:
  explicit constexpr Work(int64_t m) : minutes_(m) {}
  int64_t minutes_ = 0;
};
constexpr Work minutes(int64_t m) {
  return Work::of_minutes(m);
}
constexpr Work hours(int64_t h) {
  return Work::of_minutes(h * 60);
}

// Vacuum wavelength, whole nanometres.
struct Wavelength {
  int nanometres = 0;
  friend constexpr auto operator<=>(Wavelength, Wavelength) = default;
};

}  // namespace plan
