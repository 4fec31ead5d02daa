// A hand-made estate with light in it: rules, a fibre type, classes, and the two stages in one call.
#pragma once
#include <string>
#include <vector>

#include "optics/optics.h"
#include "unit/fibre/hand_made.h"

namespace hand_made {

struct LitEstate : Estate {
  OpticRules optic_rules;

  LitEstate() {
    optic_rules.splice_max = decibels(0.1);
    optic_rules.splice_mean = decibels(0.08);
    optic_rules.connector_max = decibels(0.5);
    optic_rules.connector_mean = decibels(0.25);
    optic_rules.margin = decibels(1);
    flat_fibre(0.4, 0.4, 0.4);
  }

  // The same attenuation at every wavelength, as the worked examples take it.
  void flat_fibre(double plan, double max, double typical) {
    FibreType fibre;
    fibre.name = "invented";
    fibre.attenuation = {
        {{1310}, decibels_per_kilometre(plan), decibels_per_kilometre(max), decibels_per_kilometre(typical)}};
    catalogue.fibres = {fibre};
  }

  // Limits of a class in both directions; 1490 nm down, 1310 nm up. Returns its index.
  int add_class(std::string name, double min_db, double max_db) {
    OpticalClass c;
    c.name = std::move(name);
    c.down.min_loss = c.up.min_loss = decibels(min_db);
    c.down.max_loss = c.up.max_loss = decibels(max_db);
    c.down.at = {1490};
    c.up.at = {1310};
    catalogue.classes.push_back(c);
    return static_cast<int>(catalogue.classes.size()) - 1;
  }

  OpticsInput optics_input(const Fibre& fibre) const {
    return {layout, fibre, demand, catalogue, rules, optic_rules};
  }
  Optics light(int threads = 1) const {
    const Fibre fibre = make();
    return make_optics(optics_input(fibre), Run{threads, {}});
  }
  std::vector<LedgerLine> expanded(DwellingId d = DwellingId(0u)) const {
    const Fibre fibre = make();
    return expanded_ledger(optics_input(fibre), d);
  }
};

// Figures of ITU-T G.984.2 class B+ as reproduced in secondary literature: down 1.5 … 5 dBm against
// -27 / -8, penalty 0.5; up 0.5 … 5 dBm against -28 / -8, penalty 0.5; 13 … 28 dB.
inline void b_plus_powers(OpticalClass& c) {
  c.down.powers_known = c.up.powers_known = true;
  c.down.transmitter = {dbm(1.5), dbm(5)};
  c.down.receiver = {dbm(-27), dbm(-8)};
  c.up.transmitter = {dbm(0.5), dbm(5)};
  c.up.receiver = {dbm(-28), dbm(-8)};
  c.down.penalty = c.up.penalty = decibels(0.5);
}

inline bool about(Loss a, double db, double tolerance = 1e-9) {
  return std::fabs(in_decibels(a) - db) <= tolerance;
}
inline bool about(double a, double b, double tolerance = 1e-9) {
  return std::fabs(a - b) <= tolerance;
}

}  // namespace hand_made
