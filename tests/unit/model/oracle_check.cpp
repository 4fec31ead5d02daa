// The oracle itself against the reference values that were derived with
// two other separately written solvers.
#include "oracle.h"

#include <doctest/doctest.h>

#include <cmath>

namespace {

constexpr double right_angle = 1.5707963267948966;
using oracle::Blow;
using oracle::Buckling;
using oracle::Part;

// Bends at 50 + 100 i m.
std::vector<Part> bends_each_100(double length, double radius, double turning = 0.01) {
  std::vector<Part> route;
  double at = 0;
  for (double next = 50; next < length; next += 100) {
    route.push_back({next - at, 0, right_angle, radius, turning});
    at = next;
  }
  route.push_back({length - at, 0, 0, 0, turning});
  return route;
}

bool near(double a, double b, double tolerance) {
  return std::abs(a - b) <= tolerance;
}

}  // namespace

TEST_CASE("oracle: eight bends (K13) and the same moving (K18)") {
  Blow b;
  b.friction = 0.15;
  b.route = bends_each_100(800, 0.3);
  CHECK(near(oracle::needed(b, 200), -0.306871, 5e-5));
  CHECK(near(oracle::needed(b, 400), -0.4081963, 5e-5));
  CHECK(near(oracle::needed(b, 600), -0.4165661, 5e-5));
  CHECK(near(oracle::needed(b, 800), -0.4057348, 5e-5));
  b.speed = 0.5;
  CHECK(near(oracle::needed(b, 800), -0.2718453, 3e-4));
  b.speed = 1;
  CHECK(near(oracle::needed(b, 800), -0.1516749, 3e-4));
}

TEST_CASE("oracle: mixed slopes and bends (K14)") {
  Blow b;
  b.friction = 0.15;
  b.route = {
      {100, 0.02, right_angle, 0.05, 0.01}, {200, -0.01, right_angle / 2, 0.3, 0.02}, {300, 0, 0, 0, 0.01}};
  CHECK(near(oracle::needed(b, 100), -0.309644, 5e-5));
  CHECK(near(oracle::needed(b, 300), -0.6401348, 5e-5));
  CHECK(near(oracle::needed(b, 600), -0.9378997, 5e-5));
  CHECK(near(oracle::needed(b, 100, true), -0.2841116, 5e-5));
  CHECK(near(oracle::needed(b, 300, true), -0.6392536, 5e-5));
  b.buckling = Buckling::blend;
  CHECK(near(oracle::needed(b, 100, true), -0.284824, 5e-5));
}

TEST_CASE("oracle: straight, high friction (K19)") {
  Blow b;
  b.friction = 0.25;
  b.buckling = Buckling::blend;
  b.route = {{900, 0, 0, 0, 0}};
  CHECK(near(oracle::needed(b, 300), -0.1335275, 5e-5));
  CHECK(near(oracle::needed(b, 600), -0.1747122, 5e-5));
  CHECK(near(oracle::needed(b, 900), -0.5966371, 5e-5));
}

TEST_CASE("oracle: micro cable, four models of buckling (K20)") {
  Blow b{0.010, 0.006, 0.15, 0.2745862, 0.12};
  b.route = {{1800, 0, 0, 0, 0}};
  const auto at = [&](Buckling model, double x) {
    b.buckling = model;
    return oracle::needed(b, x);
  };
  CHECK(near(at(Buckling::none, 600), -7.1214415, 1e-3));
  CHECK(near(at(Buckling::none, 1200), 1.928738, 1e-3));
  CHECK(near(at(Buckling::none, 1800), 12.1867294, 1e-3));
  CHECK(near(at(Buckling::threshold, 1800), 12.1867294, 1e-3));
  CHECK(near(at(Buckling::blend, 1200), 1.928738, 1e-3));
  CHECK(near(at(Buckling::blend, 1800), 16.4480163, 1e-3));
  CHECK(near(at(Buckling::add, 1200), 2.0080683, 1e-3));
  CHECK(std::isinf(at(Buckling::add, 1800)));
  CHECK(near(oracle::flow(b, 1800) / 0.001512292, 1, 1e-5));
}

TEST_CASE("oracle: buckling near the limit (K22) and the stall length of the base route (K21)") {
  Blow b;
  b.route = bends_each_100(1100, 0.3);
  b.buckling = Buckling::blend;
  CHECK(near(oracle::needed(b, 400), -0.0629377, 1e-4));
  CHECK(near(oracle::needed(b, 900), 0.1839108, 1e-4));
  b.buckling = Buckling::add;
  CHECK(near(oracle::needed(b, 800), 0.0703068, 1e-4));
  CHECK(std::isinf(oracle::needed(b, 850)));

  const auto stands = [&](double length) {
    b.route = bends_each_100(length, 0.3);
    return oracle::largest_needed(b, 40) <= 0.5;
  };
  CHECK(stands(1009));
  CHECK_FALSE(stands(1011.1));
}
