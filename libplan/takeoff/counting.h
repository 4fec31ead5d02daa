// The two halves of the count, and what they share.
#pragma once
#include "takeoff/items.h"
#include "takeoff/takeoff.h"

namespace plan {

// Adds up equal (item, area, reason).
class Sums {
 public:
  // Nothing is kept of an invalid item or an amount of 0.
  void add(ItemId item, StationId area, QuantityReason reason, int64_t amount, int32_t things = 1);
  std::vector<Quantity> take();

 private:
  void merge();
  std::vector<Quantity> rows_;
  size_t limit_ = size_t{1} << 20;
};

struct Counting {
  const TakeoffInput& in;
  const ItemBook& book;
  Takeoff& out;
  Sums sums;
};

// How far the drop of a premises is laid: what is built reaches the door.
DropLaid laid_now(const TakeoffInput& input, PremisesId premises);

void count_ducts(Counting& counting);  // openings, runs, joints, branch points
void count_fibre(Counting& counting);  // stations, premises, links, splitters, PONs, dwellings

}  // namespace plan
