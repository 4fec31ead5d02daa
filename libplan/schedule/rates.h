// How long a piece of work takes one crew, from the scenario's rates.
#pragma once
#include <string_view>

#include "model/duration.h"
#include "scenario/works.h"

namespace plan {

// What one task holds. Running minutes are those of blows at the planned speed: with a net rate a blow
// takes its set-up, the rate's minutes for each piece and its running; gross rates count metres.
struct Doing {
  double amount = 0;  // metres or pieces
  int places = 1;
  int pieces = 1;
  Work running;
};

class Rates {
 public:
  explicit Rates(const Crews& crews);
  // The rate of the surface where there is one, else that of any surface; null where there is none.
  const Rate* find(TaskKind kind, std::string_view surface) const;
  // Whole minutes; nothing without a rate. A net rate is set up once at every place.
  Work duration_of(const Rate* rate, const Doing& doing) const;
  // Amount that fits into `time` at one place; 0 without a rate.
  double amount_within(const Rate* rate, Work time) const;
  Work shift() const { return working_.day; }

 private:
  const Crews& crews_;
  Working working_;
};

}  // namespace plan
