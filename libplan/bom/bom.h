// Stage `bom`: the bill of materials and works: what to order, on which drum each length is cut, what it
// costs and when it is needed.
//
// Lengths are cut from whole drums: the cuts of an item are taken area by area in the order of the
// programme, the longest first, each on the first drum that still holds it (first-fit decreasing within an
// area, what is left on a drum goes on to the next area); drums are ordered whole and the rest printed as
// left over. Pieces are rounded up to packs. Opening is a work priced by the metre with making good in it.
// Labour is charged by the metre or piece of the take-off, or by the hour of the programme, as its price
// says. An item without a price is a note, its line marked and left out of the total. The bound of an
// item's drums is max(L1, L2) of Martello and Toth. Currency is never converted. O(n log n).
#pragma once
#include <vector>

#include "base/date.h"
#include "base/finding.h"
#include "base/id.h"
#include "base/money.h"
#include "base/run.h"
#include "scenario/works.h"
#include "schedule/schedule.h"
#include "takeoff/takeoff.h"

namespace plan {

enum class CostGroup : uint8_t { civil, material, labour };

struct BillLine {
  ItemId item;
  CostGroup group = CostGroup::material;
  int64_t needed = 0;   // of the take-off: whole millimetres or pieces; minutes where `per` is hour
  int64_t ordered = 0;  // same unit, whole drums or packs
  int64_t packs = 0;    // drums or packs; 0 for works
  PriceUnit per = PriceUnit::piece;
  bool priced = false;
  UnitPrice price;
  Money amount;
  Date needed_on;  // first crew-day that uses it
  Date order_by;   // that day minus the lead
  friend bool operator==(const BillLine&, const BillLine&) = default;
};

// What to have on site for an area.
struct CallOff {
  ItemId item;
  StationId area;
  int64_t amount = 0;  // whole millimetres or pieces
  Date needed_on, order_by;
  friend bool operator==(const CallOff&, const CallOff&) = default;
};

struct Drum {
  ItemId item;
  Length length;  // as ordered
  Length used;
  Date first_use;
  friend bool operator==(const Drum&, const Drum&) = default;
};
struct DrumCut {  // of one Cut of the take-off
  DrumId drum;
  Length in, out;  // metre marks on the drum
  friend bool operator==(const DrumCut&, const DrumCut&) = default;
};

struct Bill {
  std::vector<BillLine> lines;         // by item
  std::vector<CallOff> call_offs;      // by needed_on, item, area
  Table<DrumId, Drum> drums;           // by item, then first use
  Lists<DrumId, uint32_t> drum_cuts;   // indices into Takeoff::cuts, in the order of use
  std::vector<DrumCut> cuts;           // of each Cut of the take-off
  Table<ItemId, int64_t> drums_bound;  // no cut plan needs fewer; 0 for items not on drums
  Money civil, material, labour, total;
  Money left_over;  // part of material that stays on drums
  Findings findings;
  friend bool operator==(const Bill&, const Bill&) = default;
};

struct BillInput {
  const Takeoff& takeoff;
  const Schedule& schedule;
  const Prices& prices;
  const Stock& stock;
};
Bill make_bill(const BillInput& input, const Run& run);

}  // namespace plan
