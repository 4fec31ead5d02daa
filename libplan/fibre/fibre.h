// Stage `fibre`: which glass lights which dwelling, from OLT port to outlet.
//
// Every link gets one cable: the unit of the basis to a premises, else the smallest cable that holds the
// fibres its station needs with the feeder spare share and fits its microduct. At each station the
// dwellings below it, in the order of the links, fill splitters one after another up to the port fill;
// a splitter's input is the next fibre of the station's feed, or an OLT port at the headend. Day one
// counts the design take-up, ultimate all dwellings; with reserve_all_ports every planned dwelling has a
// port. Guaranteed: every planned dwelling has exactly one fibre, port and PON; no fibre or port twice.
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
  CableId cable;             // invalid where none fits
  int fibres_used = 0;       // day one and reserved
  Length length;             // with slack and tails
  Length duct_length;        // nominal duct path
  friend bool operator==(const LinkCable&, const LinkCable&) = default;
};

struct Splitter {
  StationId station;
  SplitterTypeId type;
  int stage = 0;             // index into LayoutRules::split
  SplitterId upstream;       // invalid: its input comes straight from an OLT port
  int upstream_port = 0;     // 1 … of `upstream`
  int feed_fibre = 0;        // 1 … of the station's feed link; 0 where `upstream` stands in the same station
  PonId pon;
  bool day_one = true;       // fitted at build; else when take-up asks
  friend bool operator==(const Splitter&, const Splitter&) = default;
};

enum class LightState : uint8_t { lit, reserved, unlit };
struct Dwelling {
  PremisesId premises;
  int number = 1;            // 1 … within its premises
  LinkId link;               // the last one
  int fibre = 0;             // 1 … position in the unit
  SplitterId splitter;       // the last one
  int port = 0;              // 1 … of it
  PonId pon;
  LightState state = LightState::unlit;
  friend bool operator==(const Dwelling&, const Dwelling&) = default;
};

struct Pon {
  HeadendId headend;
  int port = 0;              // 1 … of the headend's OLT ports
  int day_one = 0, ultimate = 0;  // dwellings
  friend bool operator==(const Pon&, const Pon&) = default;
};

struct StationFibre {
  int splitters_day_one = 0, splitters_ultimate = 0;
  int feed_fibres = 0;       // used of its feed
  int splices = 0, trays = 0, connectors = 0;
  friend bool operator==(const StationFibre&, const StationFibre&) = default;
};

struct Fibre {
  Table<LinkId, LinkCable> cables;
  Table<SplitterId, Splitter> splitters;
  Table<DwellingId, Dwelling> dwellings;       // by premises, then number; planned premises only
  Table<PremisesId, DwellingId> first_dwelling;  // invalid where unplanned
  Table<PonId, Pon> pons;                      // by headend, then port
  Table<StationId, StationFibre> stations;
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
