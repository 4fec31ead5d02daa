// Upper bounds of the force balance over one piece of a duct path, walked from the head to the feed.
// Each grows with the force it starts from, so a chain of bounds is a bound. SI doubles; private to blow.
#pragma once

namespace plan {

// A uniform run, with the bend at its downstream end. SI units.
struct Piece {
  double start, length;
  double weight, grade;         // across and along the duct, N/m
  double capstan, catch_force;  // e^(mu angle) and 2 mu Q of the bend; 1 and 0 without one
};

struct Rub {
  double friction = 0;
  double turning = 0;   // rad/m
  double buckling = 0;  // 1/(N m)
};
// Pull of the air on a piece: all of it, and the least per metre, which is at its upstream end.
struct Pull {
  double whole = 0;  // N
  double least = 0;  // N/m
};

// From below the bend at the piece's downstream end to above it.
double through_bend(double f, const Piece& p);
// At the piece's upstream end, for every head inside it and every head beyond that f >= 0 already bounds. A
// head may stand anywhere in it, so the bound never falls below 0 and counts the least pull alone.
double with_heads_inside(const Rub& s, const Piece& p, double f, const Pull& air);
// At the upstream end of a piece that the unit lies in all of.
double across(const Rub& s, const Piece& p, double f, const Pull& air);

}  // namespace plan
