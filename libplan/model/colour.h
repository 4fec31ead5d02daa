// Colour codes of fibres, tubes and microducts. The codes themselves (ANSI/TIA-598-D, the IEC 60304 set in
// the order of DIN VDE 0888, and others) are data of the catalogue; this is only how one is read.
//
//   colour_at(tia, 23)      ->  "rose, black tracer"
//   tube_place(23, 12)      ->  tube 2, position 11
//
// The same position has another colour under another code: never translate by name. A position beyond
// the code has no colour, only its number.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace plan {

// A position that leaves the rule: "20: black with a yellow tracer".
struct ColourException {
  int position = 0;
  std::string colour;  // the whole text
  friend bool operator==(const ColourException&, const ColourException&) = default;
};

struct ColourOrder {
  std::vector<std::string> colours;  // of the first round, in order
  std::vector<std::string> marks;    // of the second, third … round: "black tracer", "black ring"
  std::vector<ColourException> exceptions;
  friend bool operator==(const ColourOrder&, const ColourOrder&) = default;
};

// Positions count from 1. Nothing beyond the last round of the code.
std::optional<std::string> colour_at(const ColourOrder& code, int position);
// How many positions the code names.
int positions_of(const ColourOrder& code);

struct TubePlace {
  int tube = 0;      // from 1
  int position = 0;  // in the tube, from 1
  friend bool operator==(const TubePlace&, const TubePlace&) = default;
};
// tube = ceil(n / per_tube), position = n - per_tube (tube - 1); n and per_tube at least 1.
TubePlace tube_place(int n, int per_tube);
int fibre_number(TubePlace place, int per_tube);

}  // namespace plan
