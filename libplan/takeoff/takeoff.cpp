#include "takeoff/takeoff.h"

#include <algorithm>
#include <tuple>

#include "takeoff/areas.h"
#include "takeoff/counting.h"

namespace plan {
namespace {

auto key(const Quantity& q) {
  return std::tuple(q.item, q.area, q.reason);
}

}  // namespace

void Sums::add(ItemId item, StationId area, QuantityReason reason, int64_t amount, int32_t things) {
  if (!item.valid() || amount == 0) return;
  rows_.push_back({item, area, reason, amount, things});
  if (rows_.size() < limit_) return;
  merge();
  limit_ = std::max(limit_, rows_.size() * 2);
}

std::vector<Quantity> Sums::take() {
  merge();
  return std::move(rows_);
}

void Sums::merge() {
  std::sort(rows_.begin(), rows_.end(), [](const Quantity& a, const Quantity& b) { return key(a) < key(b); });
  size_t n = 0;
  for (const Quantity& q : rows_) {
    if (n > 0 && key(rows_[n - 1]) == key(q)) {
      rows_[n - 1].amount += q.amount;
      rows_[n - 1].things += q.things;
    } else {
      rows_[n++] = q;
    }
  }
  rows_.resize(n);
}

DropLaid laid_now(const TakeoffInput& in, PremisesId p) {
  return in.basis.needs[p].reserved ? in.demand.premises[p].laid : DropLaid::to_door;
}

std::string_view reason_text(QuantityReason r) {
  static constexpr std::string_view texts[] = {"span opened",
                                               "special crossing",
                                               "run laid",
                                               "tail in chamber, at cabinet or at premises",
                                               "microducts joined",
                                               "microducts of two sizes joined",
                                               "unused microduct closed",
                                               "blown microduct sealed",
                                               "wall passed",
                                               "microducts branch",
                                               "chamber at branch point",
                                               "cabinet of the area",
                                               "splitter in building",
                                               "splitter at branch point",
                                               "splitter of day one",
                                               "cable in its duct path",
                                               "slack and tails of cable",
                                               "dwelling served",
                                               "plot boundary",
                                               "building entered",
                                               "PON of day one",
                                               "tray of a station",
                                               "splice made",
                                               "end of a duct path",
                                               "work of the crews"};
  static_assert(std::size(texts) == static_cast<size_t>(QuantityReason::work_done) + 1);
  PLAN_CHECK(static_cast<size_t>(r) < std::size(texts));
  return texts[static_cast<size_t>(r)];
}

Takeoff make_takeoff(const TakeoffInput& input, const Run& run) {
  run.tell("takeoff", 0);
  Takeoff out;
  find_areas(input, out);
  const ItemBook book({input.demand, input.duct_catalogue, input.fibre_catalogue});
  Counting counting{input, book, out, {}};
  count_ducts(counting);
  run.tell("takeoff", 0.5);
  count_fibre(counting);
  out.items = book.items();
  out.quantities = counting.sums.take();
  std::sort(out.cuts.begin(), out.cuts.end(), [](const Cut& a, const Cut& b) {
    return std::tuple(a.item, a.run, a.link) < std::tuple(b.item, b.run, b.link);
  });
  run.tell("takeoff", 1);
  return out;
}

}  // namespace plan
