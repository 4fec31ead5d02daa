// Slices `duct_catalogue` and `fibre_catalogue`: what can be ordered, by size, never by maker. Names
// are the keys under which prices, packs and lead times are found ("7/3.5 mm microduct").
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/id.h"
#include "base/quantity.h"

namespace plan {

struct Microduct {
  std::string name;
  Length od, id;
  Length bend_radius;                                           // smallest, duct alone
  Pressure rated;                                               // working pressure
  bool direct_buried = false, in_duct = false, indoor = false;  // where it may lie
  Length coil;                                                  // length on one coil
  std::string colour_code;                                      // of a microduct sold alone
  friend bool operator==(const Microduct&, const Microduct&) = default;
};

struct Bundle {
  std::string name;
  int ways = 1;
  MicroductId microduct;
  Length od;    // catalogue OD, else layered, else packed (model/fill.h)
  Length drum;  // longest length on one drum
  bool direct_buried = true, in_duct = false;
  std::string colour_code;
  friend bool operator==(const Bundle&, const Bundle&) = default;
};

enum class FittingKind : uint8_t {
  straight_connector,
  reducing_connector,
  end_stop,
  block_connector,
  entry_seal,
  branch_closure
};
struct Fitting {
  std::string name;
  FittingKind kind = FittingKind::straight_connector;
  Length od_a, od_b;  // equal unless reducing; 0 = any
  friend bool operator==(const Fitting&, const Fitting&) = default;
};

struct ChamberType {
  std::string name;
  int joints = 0;  // microduct joints it may hold
  friend bool operator==(const ChamberType&, const ChamberType&) = default;
};

enum class CabinetKind : uint8_t { street_cabinet, chamber_closure, wall_box };
// Separate limits; 0 is none of it, not unlimited.
struct CabinetType {
  std::string name;
  CabinetKind kind = CabinetKind::street_cabinet;
  int microduct_entries = 0, drop_fibres = 0, splitter_slots = 0, trays = 0, feeder_fibres = 0;
  friend bool operator==(const CabinetType&, const CabinetType&) = default;
};

struct DuctCatalogue {
  Table<MicroductId, Microduct> microducts;
  Table<BundleId, Bundle> bundles;
  std::vector<Fitting> fittings;
  Table<ChamberTypeId, ChamberType> chambers;
  Table<CabinetTypeId, CabinetType> cabinets;
  friend bool operator==(const DuctCatalogue&, const DuctCatalogue&) = default;
};

enum class CableClass : uint8_t { fibre_unit, mini_cable, microcable };
struct Cable {
  std::string name;
  CableClass cable_class = CableClass::fibre_unit;
  int fibres = 2;
  int fillers = 0;  // positions that look like fibres and are never assigned
  Length od;
  LinearMass mass;
  Stiffness stiffness;
  Length bend_radius;
  Length drum;       // pan or drum length
  Force push_limit;  // crash-test limit at the drive wheels
  bool indoor = false;
  std::string colour_code;
  friend bool operator==(const Cable&, const Cable&) = default;
};

struct SplitterType {
  std::string name;
  int ports = 32;  // outputs
  int inputs = 1;
  Loss max_loss;               // worst port
  bool connectorised = false;  // its connectors are in max_loss and not added again
  friend bool operator==(const SplitterType&, const SplitterType&) = default;
};

struct AttenuationRow {
  Wavelength at;
  Attenuation plan, max, typical;
  friend bool operator==(const AttenuationRow&, const AttenuationRow&) = default;
};
struct BandMaximum {  // inside the band this maximum holds instead of the larger neighbour
  Wavelength from, to;
  Attenuation max;
  friend bool operator==(const BandMaximum&, const BandMaximum&) = default;
};
struct FibreType {
  std::string name;  // "G.657.A1"
  Length bend_radius;
  std::vector<AttenuationRow> attenuation;  // by wavelength
  std::vector<BandMaximum> bands;
  friend bool operator==(const FibreType&, const FibreType&) = default;
};

struct Transmitter {
  Level min, max;
  friend bool operator==(const Transmitter&, const Transmitter&) = default;
};
struct Receiver {
  Level sensitivity, overload;
  friend bool operator==(const Receiver&, const Receiver&) = default;
};
struct Direction {
  Loss min_loss, max_loss;  // optical path loss of the class
  Wavelength at;            // evaluated here
  bool powers_known = false;
  Transmitter transmitter;
  Receiver receiver;
  Loss penalty;  // optical path penalty
  friend bool operator==(const Direction&, const Direction&) = default;
};
struct OpticalClass {
  std::string name;      // "GPON B+"
  std::string standard;  // "ITU-T G.984.2"
  Direction down, up;
  Length reach;           // physical
  Loss differential;      // largest between ONUs of one PON
  int largest_split = 0;  // logical limit; 0 = none known
  friend bool operator==(const OpticalClass&, const OpticalClass&) = default;
};

struct ColourCode {
  std::string name;                     // "TIA-598-D"
  std::vector<std::string> colours;     // positions 1 …
  std::string repeat;                   // what marks 13 … : "black tracer"
  std::vector<std::string> exceptions;  // "20: black, yellow tracer"
  friend bool operator==(const ColourCode&, const ColourCode&) = default;
};

struct FibreCatalogue {
  Table<CableId, Cable> cables;  // fibre units, mini cables, microcables
  Table<SplitterTypeId, SplitterType> splitters;
  std::vector<FibreType> fibres;
  std::vector<OpticalClass> classes;
  std::vector<ColourCode> colour_codes;
  friend bool operator==(const FibreCatalogue&, const FibreCatalogue&) = default;
};

// Position 1 … of a code by name; "see the product's data" where the code does not say.
std::string colour_of(const std::vector<ColourCode>& codes, const std::string& code, int position);

}  // namespace plan
