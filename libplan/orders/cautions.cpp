#include "orders/cautions.h"

#include <array>
#include <initializer_list>

namespace plan {
namespace {

constexpr std::array<Caution, 10> lines{{
    {"C1", "compressed air",
     "Keep air away from people. Before opening the valve check hose, couplings, restraints and relief "
     "valve; vent "
     "before anything is undone. Have the far end caged or watched over radio: an open end and whatever "
     "leaves it fly "
     "like shot. Eyes, ears and hands protected. Never above the rating of the weakest part.",
     "29 CFR 1926.302(b); 30 CFR 77.412"},
    {"C2", "laser light",
     "Take every fibre as lit until a meter shows that it is dark. No microscope on a fibre not proven dark. "
     "Cap open "
     "ends. Ports with amplified or overlaid signals are for trained people only.",
     "IEC 60825-2:2021"},
    {"C3", "glass and solvents",
     "Put every glass scrap into a lidded box and count it. Glasses and gloves on, no food at the work "
     "place; glass in "
     "an eye is a case for a doctor. Keep solvents away from the arc and let fresh air in.",
     "common practice; 29 CFR 1910.1200"},
    {"C4", "chambers",
     "Fence the opening first. Pump out, test for gas, ventilate, and keep someone outside. No arc and no "
     "flame before "
     "the gas test is passed. Confined-space rules of the place apply.",
     "29 CFR 1910.268(o); Cal. Title 8 s. 8616"},
    {"C5", "buried services",
     "Break no ground without utility plans, a valid locate and trial holes by hand or vacuum. Take every "
     "service as "
     "live; a locator that finds nothing proves nothing. Report every scratch and repair none.",
     "HSE HSG47 (3rd ed. 2014)"},
    {"C6", "trench",
     "Shore or batter where depth or soil asks for it, keep spoil back, have a ladder, look at it each day, "
     "fence and "
     "plate what stays open. Take advice from 1.2 m of depth on.",
     "29 CFR 1926.652"},
    {"C7", "street and traffic",
     "Work only with the permit and traffic plan that this order names, keep a safe way for people on foot, "
     "and note "
     "the day by which the surface has to be made good.",
     "NRSWA 1991 s. 65 and Safety at Street Works code 2013 (UK); local road law"},
    {"C8", "cutting and drilling",
     "Wet the dust, protect ears, know what to do when drilling fluid comes up or a service is struck, and "
     "look for "
     "lines overhead before a mast goes up.",
     "common practice; 29 CFR 1926.1153"},
    {"C9", "lifting, height, working alone, weather",
     "Lift drums, covers and cabinets with two people or the right tool. Ladders by their rules. Agree "
     "check-in times "
     "when alone. Stop in heat, frost or storm.",
     "common practice"},
    {"C10", "gas entering buildings",
     "Seal every microduct and bundle at every building, used or not, gas-tight and water-tight, before "
     "leaving. Where "
     "the seal has to sit is for local rules: check.",
     "common practice; local building rules"},
}};

constexpr uint16_t bits(std::initializer_list<int> codes) {
  unsigned mask = 0;
  for (const int c : codes) mask |= 1U << (c - 1);
  return static_cast<uint16_t>(mask);
}

uint16_t usual(TaskKind kind) {
  switch (kind) {
    case TaskKind::dig:
      return bits({5, 6, 7, 8});
    case TaskKind::lay:
      return bits({6, 7, 9, 10});
    case TaskKind::chamber:
    case TaskKind::cabinet:
      return bits({5, 6, 7, 9});
    case TaskKind::couple:
      return bits({6, 7});
    case TaskKind::prove:
      return bits({1, 7});
    case TaskKind::blow:
      return bits({1, 3, 7, 9, 10});
    case TaskKind::splice:
      return bits({2, 3, 7});
    case TaskKind::test:
      return bits({2, 3});
    case TaskKind::reinstate:
      return bits({6, 7, 8});
    case TaskKind::connect:
      return bits({2, 3, 8, 9, 10});
  }
  return 0;
}

}  // namespace

std::span<const Caution> cautions() {
  return lines;
}

uint16_t caution_mask(TaskKind kind, bool in_chamber) {
  return static_cast<uint16_t>(usual(kind) | (in_chamber ? bits({4}) : 0));
}

std::string_view caution_footer() {
  return "Planning aid only. It does not replace a site survey, a utility search, the road authority's "
         "conditions, "
         "product data sheets or a trial blow. Owner, designer and contractor stay responsible; local code "
         "and the "
         "site's risk assessment prevail; the work is for competent and, where the law asks for it, licensed "
         "people.";
}

}  // namespace plan
