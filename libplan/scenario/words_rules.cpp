// The words of the rules. Defaults stand in data/rules.yaml; the source of each is named here.
#include "scenario/draft.h"

namespace plan {

namespace {

constexpr std::string_view practice = "common practice, no source";
constexpr std::string_view proposed = "proposal of this program";
constexpr std::string_view training = "makers' training manual (practice)";
constexpr std::string_view memory = "from memory";

using S = SplitRow;
constexpr Field split_fields[] = {
    field<&S::stage, &SplitStage::at>("at", "where the splitters of this stage stand").needed(),
    field<&S::stage, &SplitStage::ratio>("ratio", "inputs to outputs").as(Kind::ratio).from(2, 128).needed(),
};

using L = LayoutRules;
constexpr Field layout_fields[] = {
    reference<&L::cabinet>("cabinet", Refers::cabinets, "type that areas are sized for"),
    field<&L::cabinet_fill>("cabinet fill", "share of its entries and ports used at design take-up")
        .as(Kind::share)
        .from(0.05, 1)
        .after(practice),
    field<&L::longest_drop_duct>("longest drop duct", "cabinet to premises; 0 m: only the blow decides")
        .from(0, 20000)
        .after(proposed),
    field<&L::longest_feeder_duct>("longest feeder duct", "headend to cabinet; 0 m: only the blow decides")
        .from(0, 100000)
        .after(proposed),
    field<&L::cabinets_at_sites_only>("cabinets at sites only",
                                      "no: at any street node where no site is given")
        .after(proposed),
    field<&L::branch_point_premises>("branch point premises",
                                     "most premises on one splitter at a branch point")
        .from(1, 1000)
        .after(practice),
    reference<&L::chamber>("chamber", Refers::chambers, "type where ducts are joined or branched"),
};

constexpr Field fill_fields[] = {
    field<&FillRule::warn>("warn", "area share above which it is noted").as(Kind::share).from(0, 1),
    field<&FillRule::fail>("fail", "area share above which it is refused").as(Kind::share).from(0.01, 1),
};
constexpr Mapping fill_words{"a fill rule", "Area of what lies inside over the area of the bore.",
                             fill_fields};
constexpr Field radius_fields[] = {
    field<&RadiusAtTemperature::at>("at", "laying temperature").from(-40, 60).needed(),
    field<&RadiusAtTemperature::radius>("radius", "smallest radius of a bundle").from(0.05, 20).needed(),
};
constexpr Mapping radius_words{"a radius", "Smallest radius at one laying temperature; linear between rows.",
                               radius_fields};

using D = DuctRules;
constexpr Field duct_fields[] = {
    field<&D::spare_share>("spare share", "spare microducts over those in use, at least one a run")
        .as(Kind::share)
        .from(0, 5)
        .after("from memory: 10-20 %"),
    field<&D::bundles_per_span>("bundles per span", "most bundles side by side").from(1, 50).after(proposed),
    field<&D::buried_joints>("buried joints", "most microduct joints in a branch closure without a chamber")
        .from(0, 1000)
        .after(proposed),
    field<&D::taper_below>("taper below", "a run ends where less than this share of its ways goes on")
        .as(Kind::share)
        .from(0, 1)
        .after(proposed),
    reference<&D::drop_microduct>("drop microduct", Refers::microducts, "branch point to premises"),
    reference<&D::distribution_microduct>("distribution microduct", Refers::microducts,
                                          "cabinet to branch point"),
    reference<&D::feeder_microduct>("feeder microduct", Refers::microducts, "headend to cabinet"),
    inside<&D::unit_fill>("unit fill", fill_words, "fibre units; no lower bound")
        .after("derived from makers' tables"),
    inside<&D::microcable_fill>("microcable fill", fill_words, "mini cables and microcables").after(practice),
    inside<&D::pulled_fill>("pulled fill", fill_words, "bundles in an existing duct")
        .after("a maker's note (practice)"),
    several<&D::bundle_radius>("bundle radius", Many::list, radius_words, "by laying temperature")
        .after(practice),
    field<&D::laying_temperature>("laying temperature", "coldest of the laying window")
        .from(-30, 50)
        .after(proposed),
    field<&D::blowing_radius>("blowing radius", "smallest radius in a route to be blown")
        .from(0.01, 20)
        .after(training),
    field<&D::corner>("corner", "a turn at least this sharp is a bend").from(0.05, 3.15).after(proposed),
    field<&D::corner_radius>("corner radius", "radius laid at a corner").from(0.05, 50).after(proposed),
    field<&D::turn_out_radius>("turn-out radius", "microduct turning out of its bundle")
        .from(0.01, 20)
        .after(proposed),
    field<&D::tail_in_chamber>("tail in chamber", "of a trunk, each side").from(0, 100).after(practice),
    field<&D::drop_tail_in_chamber>("drop tail in chamber", "of a drop, in each chamber")
        .from(0, 100)
        .after(practice),
    field<&D::tail_at_cabinet>("tail at cabinet", "of each microduct").from(0, 100).after(proposed),
    field<&D::tail_at_premises>("tail at premises", "of the drop, above ground")
        .from(0, 100)
        .after("a Swedish municipality's instructions"),
};

using F = FibreRules;
constexpr Field fibre_fields[] = {
    field<&F::take_up>("take-up", "share of dwellings connected on day one")
        .as(Kind::share)
        .from(0, 1)
        .after(proposed),
    field<&F::fibres_per_dwelling>("fibres per dwelling", "that are lit").from(1, 12).after(practice),
    field<&F::spare_fibres_per_unit>("spare fibres per unit", "per premises, beyond the dwellings' own")
        .from(0, 100)
        .after(memory),
    field<&F::feeder_spare_share>("feeder spare share", "spare feeder fibres over those in use")
        .as(Kind::share)
        .from(0, 5)
        .after(memory),
    field<&F::port_fill>("port fill", "share of splitter ports used at design take-up")
        .as(Kind::share)
        .from(0.05, 1)
        .after(practice),
    field<&F::patched_cabinet>("patched cabinet", "no: spliced through").after(proposed),
    field<&F::reserve_all_ports>("reserve all ports", "one port per dwelling, connected or not")
        .after(proposed),
    reference<&F::unit_at_least>("smallest unit", Refers::cables, "no smaller unit is used"),
    field<&F::splices_per_tray>("splices per tray", "that a tray holds").from(1, 1000).after(practice),
    field<&F::unit_tail>("unit tail", "at each end of a fibre unit").from(0, 100).after(proposed),
    field<&F::cable_loop_at_cabinet>("cable loop at cabinet", "of a feeder cable")
        .from(0, 200)
        .after("US prints (practice)"),
    field<&F::cable_loop_at_headend>("cable loop at headend", "of a feeder cable")
        .from(0, 200)
        .after("US prints (practice)"),
    field<&F::slack_share>("slack share", "cable over duct route").as(Kind::share).from(0, 0.5).after(memory),
};

using B = BlowRules;
constexpr std::string_view derived = "derived from published blows";
constexpr Field blowing_fields[] = {
    field<&B::unit_friction>("unit friction", "effective, fibre units").from(0.01, 1).after(derived),
    field<&B::cable_friction>("cable friction", "effective, mini cables and microcables")
        .from(0.01, 1)
        .after(derived),
    field<&B::tortuosity>("tortuosity", "angle turned per metre laid, besides the bends")
        .as(Kind::winding)
        .from(0, 1)
        .after(derived),
    field<&B::supply>("supply pressure", "gauge, at the launch point").from(1, 20).after(training),
    field<&B::net_push_limit>("net push limit", "on top of the product's own limit")
        .from(0, 1000)
        .after(proposed),
    field<&B::air>("air temperature", "of the air in the duct").from(-20, 60).after(proposed),
    field<&B::speed>("speed", "planned").from(1, 200).after("makers' manuals, Griffioen 1989"),
    field<&B::length_share>("length share", "of the screened length that may be planned")
        .as(Kind::share)
        .from(0.05, 1)
        .after(proposed),
};

using O = OpticRules;
constexpr Field optic_fields[] = {
    reference<&O::fibre>("fibre", Refers::fibres, "fibre type"),
    field<&O::worst_case_attenuation>("worst case attenuation",
                                      "yes: the standard's limit instead of the plan value")
        .after(proposed),
    field<&O::splice_max>("splice largest", "fusion splice")
        .from(0, 5)
        .after("ITU-T L.12 (now L.400), second-hand"),
    field<&O::splice_mean>("splice mean", "fusion splice").from(0, 5).after(practice),
    field<&O::connector_max>("connector largest", "mated pair")
        .from(0, 5)
        .after("IEC 61753-1 grade C, second-hand"),
    field<&O::connector_mean>("connector mean", "mated pair")
        .from(0, 5)
        .after("IEC 61753-1 grade C, second-hand"),
    field<&O::margin>("margin", "for repairs, ageing, temperature")
        .from(0, 20)
        .after("proposal with largest values"),
    field<&O::connectors_at_headend>("connectors at headend", "mated pairs in the light path")
        .from(0, 20)
        .after(practice),
    field<&O::connectors_at_outlet>("connectors at outlet", "mated pairs in the light path")
        .from(0, 20)
        .after(practice),
    field<&O::connectors_at_cabinet>("connectors at cabinet", "mated pairs, where the cabinet is patched")
        .from(0, 20)
        .after(practice),
};

}  // namespace

constexpr Mapping split_words{"a split stage", "Splitters of one ratio at one kind of place.", split_fields,
                              nullptr, spot_of<&S::spot>};
constexpr Mapping layout_words{"the layout rules", "Cabinets, areas and lengths.", layout_fields};
constexpr Mapping duct_words{"the duct rules", "Microducts, spare, fill, bends and tails.", duct_fields};
constexpr Mapping fibre_words{"the fibre rules", "Take-up, spare, splicing and slack.", fibre_fields};
constexpr Mapping blowing_words{"the blowing rules", "What the blow is simulated with.", blowing_fields};
constexpr Mapping optic_words{"the optic rules", "What the loss is added up from.", optic_fields};

}  // namespace plan
