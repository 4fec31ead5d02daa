#include "oracle.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace oracle {

namespace {

constexpr double pi = 3.14159265358979323846, ambient = 101325, gas = 287.05 * 293.15, viscosity = 1.82e-5;
constexpr double infinity = std::numeric_limits<double>::infinity();

double area(double outer, double inner) {
  return pi / 4 * (outer * outer - inner * inner);
}

// Gradient of p^2 beside a unit whose wetted share is `moving` (1 at rest), Blasius.
double beside(const Blow& b, double m, double shear) {
  const double a = area(b.bore, b.unit), re = 4 * m / (pi * (b.bore + b.unit) * viscosity);
  const double lambda = 0.3164 * std::pow(re, -0.25);
  return lambda * gas * m * m / (a * a) * pi / (4 * a) * (b.bore + b.unit * shear);
}

double beyond(const Blow& b, double m) {
  const double a = area(b.bore, 0), re = 4 * m / (pi * b.bore * viscosity);
  return 0.3164 * std::pow(re, -0.25) * gas * m * m / (a * a * b.bore);
}

double air_speed(const Blow& b, double m, double p) {
  return m * gas / (area(b.bore, b.unit) * p);
}

double shear_of(const Blow& b, double m, double p) {
  const double u = air_speed(b, m, p), slip = (u - b.speed) / u;
  return slip * std::abs(slip);
}

// p^2 along the occupied part, marched on a grid (second order), so that moving units need no closed form.
std::vector<double> profile(const Blow& b, double m, double x, int steps) {
  std::vector<double> q{b.inlet * b.inlet};
  const double h = x / steps, floor = 1;
  for (int i = 0; i < steps; ++i) {
    const double g1 = beside(b, m, shear_of(b, m, std::sqrt(std::max(floor, q.back()))));
    const double half = std::max(floor, q.back() - g1 * h / 2);
    const double g2 = beside(b, m, shear_of(b, m, std::sqrt(half)));
    q.push_back(std::max(floor, q.back() - g2 * h));
  }
  return q;
}

struct Air {
  double m = 0, x = 0;
  std::vector<double> squares;  // moving only
  double square_at_head = 0;
};

double exit_square(const Blow& b, double m, double x, int steps) {
  const double tail = beyond(b, m) * (length_of(b) - x);
  if (b.speed == 0) return b.inlet * b.inlet - beside(b, m, 1) * x - tail;
  return profile(b, m, x, steps).back() - tail;
}

Air air(const Blow& b, double x) {
  const int steps = std::max(400, static_cast<int>(x));
  double low = 1e-9, high = 1;
  for (int i = 0; i < 70; ++i) {
    const double m = std::sqrt(low * high);
    (exit_square(b, m, x, steps) > ambient * ambient ? low : high) = m;
  }
  Air out{low, x, {}, 0};
  if (b.speed == 0)
    out.square_at_head = b.inlet * b.inlet - beside(b, low, 1) * x;
  else
    out.squares = profile(b, low, x, steps);
  return out;
}

double drag(const Blow& b, const Air& a, double s) {
  if (b.inlet <= ambient || a.x <= 0) return 0;
  if (b.speed == 0) {
    const double drop = b.inlet * b.inlet - a.square_at_head;
    const double p = std::sqrt(b.inlet * b.inlet - drop * s / a.x);
    return pi / 4 * b.unit * b.bore * drop / (2 * a.x * p);
  }
  const double at = s / a.x * static_cast<double>(a.squares.size() - 1);
  const auto i = std::min(static_cast<size_t>(at), a.squares.size() - 2);
  const double q = a.squares[i] + (a.squares[i + 1] - a.squares[i]) * (at - static_cast<double>(i));
  const double p = std::sqrt(q), u = air_speed(b, a.m, p), slip = u - b.speed;
  const double re = 4 * a.m / (pi * (b.bore + b.unit) * viscosity), lambda = 0.3164 * std::pow(re, -0.25);
  const double gradient = beside(b, a.m, shear_of(b, a.m, p)) / (2 * p);
  return pi * b.unit * lambda / 8 * p / gas * slip * std::abs(slip) + pi / 4 * b.unit * b.unit * gradient;
}

double contact(const Blow& b, double f, double w, double turning) {
  const double base = std::hypot(w, turning * f);
  if (f <= 0 || b.buckling == Buckling::none) return base;
  const double r = (b.bore - b.unit) / 2, coil = r / (4 * b.ei) * f * f;
  if (b.buckling == Buckling::add) return base + coil;
  const double snake = 2 * std::sqrt(b.ei * w / r), helix = std::sqrt(2.0) * snake;
  if (b.buckling == Buckling::threshold) return f >= helix ? std::max(base, coil) : base;
  if (f >= helix) return base + coil - w;
  if (f <= snake) return base;
  return base + w * (f - snake) / (helix - snake);
}

double through_bend(const Blow& b, double f, const Part& p) {
  if (p.angle <= 0) return f;
  const double r = (b.bore - b.unit) / 2, q = b.ei / (p.radius * std::sqrt(48 * p.radius * r));
  f += 2 * b.friction * q;
  f *= std::exp(f > 0 ? b.friction * p.angle : -b.friction * p.angle);
  return f + 2 * b.friction * q;
}

// Backward over a run.
double over_run(const Blow& b, const Air& a, double f, double start, double end, const Part& part) {
  const double sine = part.sine, run = end - start;
  const double w = b.weight * std::sqrt(1 - sine * sine);
  const auto rate = [&](double at, double force) {
    return b.friction * contact(b, force, w, part.turning) + b.weight * sine - drag(b, a, at);
  };
  const double beta = (b.bore - b.unit) / 2 / (4 * b.ei);
  for (double done = 0; done < run;) {
    double h = std::min(b.step, run - done);
    if (part.turning > 0) h = std::min(h, 1 / (b.friction * part.turning));
    if (f > 0 && b.buckling != Buckling::none)
      h = std::min(h, std::max(1e-4, 0.02 / (b.friction * beta * f)));
    const double s = end - done;
    const double k1 = rate(s, f), k2 = rate(s - h / 2, f + h / 2 * k1), k3 = rate(s - h / 2, f + h / 2 * k2),
                 k4 = rate(s - h, f + h * k3);
    f += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
    if (!(f < 1e4)) return infinity;
    done += h;
  }
  return f;
}

}  // namespace

double length_of(const Blow& b) {
  double sum = 0;
  for (const Part& p : b.route) sum += p.run;
  return sum;
}

double flow(const Blow& b, double x) {
  return air(b, x).m;
}

double needed(const Blow& b, double x, bool past_bend) {
  const Air a = b.inlet > ambient ? air(b, x) : Air{};
  std::vector<double> ends;
  double sum = 0;
  for (const Part& p : b.route) ends.push_back(sum += p.run);
  double f = 0;
  for (size_t i = b.route.size(); i-- > 0;) {
    const Part& p = b.route[i];
    const double start = ends[i] - p.run, end = std::min(x, ends[i]);
    if (start >= x && !(start == x && past_bend && p.run == 0)) continue;
    if (ends[i] < x || (past_bend && ends[i] == x)) f = through_bend(b, f, p);
    f = over_run(b, a, f, start, end, p);
    if (f == infinity) return f;
  }
  return f;
}

double largest_needed(const Blow& b, int heads) {
  const double length = length_of(b);
  double most = -infinity, sum = 0;
  for (int i = 1; i <= heads; ++i) most = std::max(most, needed(b, length * i / heads));
  for (const Part& p : b.route) {
    sum += p.run;
    if (p.angle > 0) most = std::max({most, needed(b, sum, false), needed(b, sum, true)});
  }
  return most;
}

}  // namespace oracle
