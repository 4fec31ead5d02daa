// The words of the catalogue: what can be ordered, by size, never by maker.
#include "scenario/draft.h"

namespace plan {

namespace {

constexpr Field source() {
  return remark("source", "where the figures come from");
}

using M = Microduct;
constexpr Field microduct_fields[] = {
    field<&M::od>("outside diameter", "of the tube").from(0.001, 0.1).needed(),
    field<&M::id>("bore", "inside diameter").from(0.001, 0.1).needed(),
    field<&M::bend_radius>("bend radius", "smallest, tube alone").from(0.005, 5).needed(),
    field<&M::rated>("rated", "working pressure").from(0.1, 40).needed(),
    field<&M::direct_buried>("direct buried", "may lie in the ground without a duct").otherwise("no"),
    field<&M::in_duct>("in duct", "may lie in a duct").otherwise("no"),
    field<&M::indoor>("indoor", "may lie inside a building").otherwise("no"),
    field<&M::coil>("coil", "length on one coil").from(1, 20000).needed(),
    reference<&M::colour_code>("colour code", Refers::colour_codes, "of tubes sold alone"),
    offered(),
    source(),
};
constexpr Mapping microduct_words{"a microduct", "One tube, OD/ID.", microduct_fields, text_of<&M::name>};

using B = Bundle;
constexpr Field bundle_fields[] = {
    field<&B::ways>("ways", "microducts in the sheath").from(1, 100).needed(),
    reference<&B::microduct>("microduct", Refers::microducts, "the tube it is made of").needed(),
    field<&B::od>("outside diameter", "over the sheath").from(0.001, 0.5).needed(),
    field<&B::drum>("drum", "longest length on one drum").from(1, 20000).needed(),
    field<&B::direct_buried>("direct buried", "may lie in the ground without a duct").otherwise("yes"),
    field<&B::in_duct>("in duct", "may lie in a duct").otherwise("no"),
    reference<&B::colour_code>("colour code", Refers::colour_codes, "order of its tubes"),
    offered(),
    source(),
};
constexpr Mapping bundle_words{"a bundle", "A sheath with microducts of one size.", bundle_fields,
                               text_of<&B::name>};

using F = Fitting;
constexpr Field fitting_fields[] = {
    field<&F::kind>("kind", "what it does").needed(),
    field<&F::od_a>("outside diameter", "of the microduct; of the first one where it reduces")
        .from(0, 0.1)
        .otherwise("0 m, any"),
    field<&F::od_b>("second outside diameter", "of the other microduct").from(0, 0.1).otherwise("the same"),
    offered(),
    source(),
};
constexpr Mapping fitting_words{"a fitting", "Joins, ends and seals of microducts.", fitting_fields,
                                text_of<&F::name>};

using C = ChamberType;
constexpr Field chamber_fields[] = {
    field<&C::joints>("joints", "microduct joints it may hold").from(0, 10000).needed(),
    offered(),
    source(),
};
constexpr Mapping chamber_words{"a chamber", "Buried access point.", chamber_fields, text_of<&C::name>};

using T = CabinetType;
constexpr Field cabinet_fields[] = {
    field<&T::kind>("kind", "what it is").otherwise("street cabinet"),
    field<&T::microduct_entries>("microduct entries", "microducts that enter").from(0, 10000).needed(),
    field<&T::drop_fibres>("drop fibres", "fibres to dwellings it can end").from(0, 100000).needed(),
    field<&T::splitter_slots>("splitter slots", "splitters it holds").from(0, 10000).needed(),
    field<&T::trays>("trays", "splice trays it holds").from(0, 10000).needed(),
    field<&T::feeder_fibres>("feeder fibres", "fibres from the headend it can end").from(0, 100000).needed(),
    offered(),
    source(),
};
constexpr Mapping cabinet_words{"a cabinet", "Node with splitters or splices.", cabinet_fields,
                                text_of<&T::name>};

using K = Cable;
constexpr Field cable_fields[] = {
    field<&K::cable_class>("class", "how it is blown").needed(),
    field<&K::fibres>("fibres", "usable fibres").from(1, 1000).needed(),
    field<&K::fillers>("fillers", "positions that look like fibres and are never assigned")
        .from(0, 1000)
        .otherwise("0"),
    field<&K::od>("outside diameter", "of the unit or cable").from(0.0005, 0.05).needed(),
    field<&K::mass>("mass", "per metre").from(0.05, 1000).needed(),
    field<&K::stiffness>("stiffness", "bending stiffness").from(0, 100).needed(),
    field<&K::bend_radius>("bend radius", "smallest while it is blown").from(0.005, 5).needed(),
    field<&K::drum>("drum", "length on one pan or drum").from(10, 50000).needed(),
    field<&K::push_limit>("push limit", "of the crash test at the drive wheels").from(0.01, 10000).needed(),
    field<&K::indoor>("indoor", "may lie inside a building").otherwise("no"),
    reference<&K::colour_code>("colour code", Refers::colour_codes, "order of its fibres"),
    offered(),
    source(),
};
constexpr Mapping cable_words{"a cable", "What is blown: fibre unit, mini cable or microcable.", cable_fields,
                              text_of<&K::name>};

using S = SplitterType;
constexpr Field splitter_fields[] = {
    field<&S::ports>("ports", "outputs").from(2, 1024).needed(),
    field<&S::inputs>("inputs", "inputs").from(1, 2).otherwise("1"),
    field<&S::max_loss>("largest loss", "worst port").from(0, 60).needed(),
    field<&S::connectorised>("connectorised", "its connectors are in the loss and not added again")
        .otherwise("no"),
    offered(),
    source(),
};
constexpr Mapping splitter_words{"a splitter", "Even splitter, 1:N or 2:N.", splitter_fields,
                                 text_of<&S::name>};

using A = AttenuationRow;
constexpr Field attenuation_fields[] = {
    field<&A::at>("at", "wavelength").from(1200, 1700).needed(),
    field<&A::plan>("plan", "what is planned with").from(0, 10).needed(),
    field<&A::max>("largest", "the standard's limit").from(0, 10).needed(),
    field<&A::typical>("typical", "usual reading").from(0, 10).needed(),
};
constexpr Mapping attenuation_words{"an attenuation row",
                                    "Attenuation at one wavelength; between rows the plan "
                                    "column is linear, the largest column the larger neighbour.",
                                    attenuation_fields};
using W = BandMaximum;
constexpr Field band_fields[] = {
    field<&W::from>("from", "lower edge").from(1200, 1700).needed(),
    field<&W::to>("to", "upper edge").from(1200, 1700).needed(),
    field<&W::max>("largest", "limit inside the band").from(0, 10).needed(),
};
constexpr Mapping band_words{"a band", "A band whose limit holds instead of the larger neighbour.",
                             band_fields};
using G = FibreType;
constexpr Field fibre_type_fields[] = {
    field<&G::bend_radius>("bend radius", "smallest of the fibre itself").from(0.001, 1).needed(),
    several<&G::attenuation>("attenuation", Many::list, attenuation_words, "by rising wavelength").needed(),
    several<&G::bands>("bands", Many::list, band_words, "bands with a limit of their own"),
    offered(),
    source(),
};
constexpr Mapping fibre_type_words{"a fibre", "Fibre after its standard.", fibre_type_fields,
                                   text_of<&G::name>};

constexpr Field transmitter_fields[] = {
    field<&Transmitter::min>("least", "launch power").from(-50, 30).needed(),
    field<&Transmitter::max>("most", "launch power").from(-50, 30).needed(),
};
constexpr Mapping transmitter_words{"a transmitter", "Launch power.", transmitter_fields};
constexpr Field receiver_fields[] = {
    field<&Receiver::sensitivity>("sensitivity", "weakest signal received").from(-60, 10).needed(),
    field<&Receiver::overload>("overload", "strongest signal received").from(-60, 10).needed(),
};
constexpr Mapping receiver_words{"a receiver", "Received power.", receiver_fields};

using D = Direction;
constexpr Field transmitter() {
  Field f = inside<&D::transmitter>("transmitter", transmitter_words, "launch power; where powers are known");
  f.given = flag<&D::powers_known>;
  return f;
}
constexpr Field direction_fields[] = {
    field<&D::min_loss>("least loss", "of the class").from(0, 60).needed(),
    field<&D::max_loss>("largest loss", "of the class").from(0, 60).needed(),
    field<&D::at>("at", "wavelength it is evaluated at").from(1200, 1700).needed(),
    transmitter(),
    inside<&D::receiver>("receiver", receiver_words, "where powers are known"),
    field<&D::penalty>("penalty", "optical path penalty").from(0, 10).otherwise("0 dB"),
};
constexpr Mapping direction_words{"a direction", "One direction of a class.", direction_fields};

using O = OpticalClass;
constexpr Field class_fields[] = {
    field<&O::standard>("standard", "that defines it").needed(),
    inside<&O::down>("down", direction_words, "headend to outlet").needed(),
    inside<&O::up>("up", direction_words, "outlet to headend").needed(),
    field<&O::reach>("reach", "physical").from(1, 200000).needed(),
    field<&O::differential>("differential loss", "largest between outlets of one PON").from(0, 60).needed(),
    field<&O::largest_split>("largest split", "logical limit").from(0, 4096).otherwise("0, none known"),
    offered(),
    source(),
};
constexpr Mapping class_words{"a class", "Optical path loss class of a standard.", class_fields,
                              text_of<&O::name>};

using Y = ColourCode;
constexpr Field code_fields[] = {
    list<&Y::colours>("colours", "positions 1 and up").needed(),
    field<&Y::repeat>("repeat", "what marks the second round"),
    list<&Y::exceptions>("exceptions", "positions that differ: '20: black, yellow tracer'"),
    source(),
};
constexpr Mapping code_words{"a colour code", "Order of colours by position, after its standard.",
                             code_fields, text_of<&Y::name>};

using Q = CatalogueDraft;
constexpr Field catalogue_fields[] = {
    several<&Q::ducts, &DuctCatalogue::microducts>("microducts", Many::named, microduct_words, "tubes"),
    several<&Q::ducts, &DuctCatalogue::bundles>("bundles", Many::named, bundle_words, "bundles of tubes"),
    several<&Q::ducts, &DuctCatalogue::fittings>("fittings", Many::named, fitting_words,
                                                 "connectors, stops, seals"),
    several<&Q::ducts, &DuctCatalogue::chambers>("chambers", Many::named, chamber_words,
                                                 "buried access points"),
    several<&Q::ducts, &DuctCatalogue::cabinets>("cabinets", Many::named, cabinet_words,
                                                 "cabinets and wall boxes"),
    several<&Q::fibre, &FibreCatalogue::cables>("cables", Many::named, cable_words, "what is blown"),
    several<&Q::fibre, &FibreCatalogue::splitters>("splitters", Many::named, splitter_words, "splitters"),
    several<&Q::fibre, &FibreCatalogue::fibres>("fibres", Many::named, fibre_type_words, "fibre types"),
    several<&Q::fibre, &FibreCatalogue::classes>("classes", Many::named, class_words, "optical classes"),
    several<&Q::fibre, &FibreCatalogue::colour_codes>("colour codes", Many::named, code_words,
                                                      "colour orders"),
    list<&Q::other_items>("other items", "further names that may carry a price"),
};

}  // namespace

constexpr Mapping catalogue_words{"the catalogue", "What can be ordered; entries merge by name.",
                                  catalogue_fields};

}  // namespace plan
