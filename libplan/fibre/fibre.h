// Stage `fibre`: which glass lights which dwelling, from OLT port to outlet.
//
// Every link gets one cable: the unit of the basis to a premises, else the smallest cable that holds the
// fibres its station needs with the feeder spare share and fits its microduct. At each station what is
// below it, in the order of the links, fills splitters one after another: the first k splitters of the last
// stage hold the whole part of k x ratio x port fill dwellings, other stages are filled whole, so the
// number of splitters is least: ceil(dwellings / (ratio x port fill)). A splitter's input is the next fibre
// of the station's feed, an output of a splitter in the same station, or an OLT port at the headend. A
// station without a stage splices fibres through. Where no stage lights a dwelling it has its OLT port
// alone. OLT ports are numbered per headend in the order of the stations they light.
//
// Guaranteed: every planned dwelling that layout serves has exactly one fibre, port and PON; no fibre and
// no port is used twice. One that is not served stays `unlit`. A dwelling lit by a splitter in its own
// building has its own indoor fibre, and no position in the unit (fibre = 0).
//
// Day one, with reserve_all_ports (fixed splicing): every splitter is fitted at build, and the design
// take-up only says how many dwellings of a PON are expected; buildings on order get theirs later. Without it
// (a patched place, where the port follows the order): only the splitters that the take-up fills are fitted,
// ceil(dwellings x take-up / (ratio x port fill)) of a place; ports of the others are nominal. On-order
// premises count as ultimate.
//
// Splices: every fibre in use is spliced at each end of its cable, to a splitter's leg, to the next cable,
// or to a pigtail where the place is patched; connectors of a patched place come on top. What premises on
// order need is not counted at build. Trays are sized for the ultimate number. O(n) but for the sort of
// splitters by station.
#pragma once
#include "base/finding.h"
#include "base/id.h"
#include "base/run.h"
#include "basis/basis.h"
#include "ducts/ducts.h"
#include "layout/layout.h"
#include "scenario/catalogue.h"
#include "scenario/rules.h"

namespace plan {

struct LinkCable {
  CableId cable;        // invalid where none fits
  int fibres_used = 0;  // carrying light or kept for it, ultimate; 1 … are used in order
  Length length;        // with slack and tails
  Length duct_length;   // nominal duct path
  friend bool operator==(const LinkCable&, const LinkCable&) = default;
};

struct Splitter {
  StationId station;
  SplitterTypeId type;
  int stage = 0;          // index into LayoutRules::split
  SplitterId upstream;    // invalid: its input comes straight from an OLT port
  int upstream_port = 0;  // 1 … of `upstream`
  int feed_fibre =
      0;  // 1 … of the station's feed link; 0 at a headend or below a splitter in the same station
  PonId pon;
  bool day_one = true;  // fitted at build; else when take-up asks
  friend bool operator==(const Splitter&, const Splitter&) = default;
};

enum class LightState : uint8_t { lit, reserved, unlit };
struct Dwelling {
  PremisesId premises;
  int number = 1;       // 1 … within its premises
  LinkId link;          // the last one
  int fibre = 0;        // 1 … position in the unit
  SplitterId splitter;  // the last one
  int port = 0;         // 1 … of it
  PonId pon;
  LightState state = LightState::unlit;
  friend bool operator==(const Dwelling&, const Dwelling&) = default;
};

struct Pon {
  HeadendId headend;
  int port = 0;                   // 1 … of the headend's OLT ports
  int day_one = 0, ultimate = 0;  // dwellings
  friend bool operator==(const Pon&, const Pon&) = default;
};

struct StationFibre {
  int splitters_day_one = 0, splitters_ultimate = 0;
  int feed_fibres = 0;  // used of its feed
  int splices = 0;      // at build
  int trays = 0;        // for the ultimate number of splices
  int connectors = 0;   // mated pairs at build
  friend bool operator==(const StationFibre&, const StationFibre&) = default;
};

// A fibre that passes a station unsplit: `fibre` of `link`, which leaves the station, goes on as
// `feed_fibre` of the station's feed; at a headend `feed_fibre` is the OLT port.
struct Through {
  LinkId link;
  int fibre = 0;
  int feed_fibre = 0;
  friend bool operator==(const Through&, const Through&) = default;
};

struct Fibre {
  Table<LinkId, LinkCable> cables;
  Table<SplitterId, Splitter> splitters;         // by station, then stage: upstream always a smaller id
  Table<DwellingId, Dwelling> dwellings;         // by premises, then number; planned premises only
  Table<PremisesId, DwellingId> first_dwelling;  // invalid where unplanned
  Table<PonId, Pon> pons;                        // by headend, then port
  Table<StationId, StationFibre> stations;
  Lists<StationId, Through> throughs;       // by feed fibre
  Table<PremisesId, int> premises_splices;  // building points and outlets, at build
  Findings findings;
  friend bool operator==(const Fibre&, const Fibre&) = default;
};

struct FibreInput {
  const Network& network;
  const Basis& basis;
  const Layout& layout;
  const Ducts& ducts;
  const Demand& demand;
  const DuctCatalogue& duct_catalogue;
  const FibreCatalogue& catalogue;
  const LayoutRules& layout_rules;
  const DuctRules& duct_rules;
  const FibreRules& rules;
};
Fibre make_fibre(const FibreInput& input, const Run& run);

}  // namespace plan
