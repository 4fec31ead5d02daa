// Slices of rules: what the designer demands of the layout, the ducts, the fibre, the blows and the
// light. Every default stands in data with its source; `withy check --effective` prints them.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/date.h"
#include "base/id.h"
#include "base/quantity.h"

namespace plan {

enum class SplitterPlace : uint8_t { headend, cabinet, branch_point, building };
struct SplitStage {
  SplitterPlace at = SplitterPlace::cabinet;
  int ratio = 32;
  friend bool operator==(const SplitStage&, const SplitStage&) = default;
};

struct LayoutRules {
  std::vector<SplitStage> split{{SplitterPlace::cabinet, 32}};  // from the headend outwards
  CabinetTypeId cabinet;                                        // the type that areas are sized for
  double cabinet_fill = 0.85;  // share of its entries and ports used at design take-up
  Length longest_drop_duct;    // cabinet to premises; 0 = only the blow decides
  Length longest_feeder_duct;  // headend to cabinet; 0 = only the blow decides
  bool cabinets_at_sites_only = false;
  int branch_point_premises = 8;  // premises served from one branch-point splitter at most
  ChamberTypeId chamber;
  friend bool operator==(const LayoutRules&, const LayoutRules&) = default;
};

struct FillRule {             // by class of product: unit, microcable, pulled bundle
  double warn = 0, fail = 0;  // area shares
  friend bool operator==(const FillRule&, const FillRule&) = default;
};
struct RadiusAtTemperature {
  Temperature at;
  Length radius;
  friend bool operator==(const RadiusAtTemperature&, const RadiusAtTemperature&) = default;
};
struct DuctRules {
  double spare_share = 0.15;  // of the microducts in use, at least one a run
  int bundles_per_span = 4;
  int buried_joints = 0;       // most microduct joints in a branch closure without a chamber
  double taper_below = 0.5;    // a run ends where less than this share of its ways goes on
  MicroductId drop_microduct;  // laid from the branch point to the premises
  MicroductId distribution_microduct, feeder_microduct;
  FillRule unit_fill, microcable_fill, pulled_fill;
  std::vector<RadiusAtTemperature> bundle_radius;  // by laying temperature, falling with warmth
  Temperature laying_temperature;                  // coldest of the laying window
  Length blowing_radius;                           // smallest radius in a route to be blown
  Angle corner;            // a turn at least this sharp is a bend, less goes into tortuosity
  Length corner_radius;    // radius laid at a corner
  Length turn_out_radius;  // radius of a microduct where it turns out of its bundle
  Length tail_in_chamber, drop_tail_in_chamber, tail_at_cabinet, tail_at_premises;
  friend bool operator==(const DuctRules&, const DuctRules&) = default;
};

struct FibreRules {
  double take_up = 1;  // design share of dwellings, day one
  int fibres_per_dwelling = 1;
  int spare_fibres_per_unit = 1;  // per premises, beyond the dwellings' own
  double feeder_spare_share = 0.15;
  double port_fill = 1;           // share of splitter ports used at design take-up
  bool patched_cabinet = false;   // else spliced
  bool reserve_all_ports = true;  // fixed splicing reserves one port per dwelling
  CableId unit_at_least;          // smallest unit to use; invalid = any
  int splices_per_tray = 12;
  Length unit_tail;  // at each end of a unit
  Length cable_loop_at_cabinet, cable_loop_at_headend;
  double slack_share = 0.03;  // cable over duct route
  friend bool operator==(const FibreRules&, const FibreRules&) = default;
};

struct BlowRules {
  double unit_friction = 0.20, cable_friction = 0.10;  // effective, section 5 of docs/numbers.md
  double tortuosity = 0.01;                            // rad per metre laid
  Pressure supply;                                     // at the launch point
  Force net_push_limit;                                // rule on top of the product's crash-test limit
  Temperature air;
  Speed speed;              // planned
  double length_share = 1;  // of the screened length that may be planned
  friend bool operator==(const BlowRules&, const BlowRules&) = default;
};

struct OpticRules {
  int optical_class = 0;                // index into FibreCatalogue::classes
  std::vector<int> also;                // further classes on the same glass, held as well
  int fibre = 0;                        // index into FibreCatalogue::fibres
  bool worst_case_attenuation = false;  // column max instead of plan
  Loss splice_max, splice_mean, connector_max, connector_mean;
  Loss margin;
  int connectors_at_headend = 2, connectors_at_outlet = 1, connectors_at_cabinet = 2;
  friend bool operator==(const OpticRules&, const OpticRules&) = default;
};

}  // namespace plan
