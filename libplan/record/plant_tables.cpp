// Tables of what is laid, blown and lit: runs, sections, links, joints, blows, splitters, PONs.
#include "record/tables.h"

namespace plan {
namespace {

using enum ColumnKind;

constexpr Column runs[] = {
    {"run", integer, "", 0, "id"},
    {"bundle", text, "", 0, "catalogue name"},
    {"ways", integer, "", 0, "microducts in it"},
    {"role", text, "", 0, "feeder, distribution or drop"},
    {"station", integer, "", 0, "whose links it carries"},
    {"from node", integer, "", 0, "end towards the station"},
    {"to node", integer, "", 0, ""},
    {"length", number, "m", 3, "nominal, along its spans"},
    {"spans", ids, "", 0, "in order from the from node"},
};

constexpr Column sections[] = {
    {"section", integer, "", 0, "id"},
    {"run", integer, "", 0, ""},
    {"position", integer, "", 0, "microduct of the bundle, from 1"},
    {"colour", text, "", 0, "after the bundle's colour code"},
    {"state", text, "", 0, "used, reserved, spare or dead"},
    {"from node", integer, "", 0, ""},
    {"to node", integer, "", 0, ""},
    {"length", number, "m", 3, ""},
    {"link", integer, "", 0, "that uses or reserves it"},
};

constexpr Column links[] = {
    {"link", integer, "", 0, "id"},
    {"from station", integer, "", 0, ""},
    {"to station", integer, "", 0, "empty where it ends at a premises only"},
    {"premises", text, "", 0, "empty where it ends at a station"},
    {"from node", integer, "", 0, ""},
    {"to node", integer, "", 0, ""},
    {"sections", ids, "", 0, "duct path from the from station"},
    {"cable", text, "", 0, "unit or cable blown in"},
    {"fibres", integer, "", 0, "in the cable"},
    {"fibres used", integer, "", 0, "day one and reserved"},
    {"duct length", number, "m", 3, "nominal"},
    {"cable length", number, "m", 3, "with slack and tails"},
};

constexpr Column joints[] = {
    {"node", integer, "", 0, ""},
    {"kind", text, "", 0, "straight, reducing, end stop or block connector"},
    {"section a", integer, "", 0, ""},
    {"section b", integer, "", 0, "empty for an end stop or block connector"},
};

constexpr Column branch_points[] = {
    {"node", integer, "", 0, ""},
    {"x", number, "m", 3, ""},
    {"y", number, "m", 3, ""},
    {"chamber", text, "", 0, "chamber type; `buried` for a branch closure in the ground"},
    {"joints", integer, "", 0, "microduct connectors and end stops here"},
};

constexpr Column blows[] = {
    {"link", integer, "", 0, ""},
    {"result", text, "", 0, "passes or refused"},
    {"launch", text, "", 0, "station or far end"},
    {"cable", text, "", 0, ""},
    {"bore", text, "", 0, "narrowest microduct on the way"},
    {"length", number, "m", 3, "duct path"},
    {"bends", integer, "", 0, ""},
    {"supply", number, "bar gauge", 1, "planned"},
    {"supply needed", number, "bar gauge", 1, "the least that passes"},
    {"push needed", number, "N", 3, "largest over all head positions; negative where the air pulls"},
    {"push available", number, "N", 3, "after the feeder has paid for the pressure on the unit's end"},
    {"push only", number, "m", 1, "how far pushing alone gets"},
    {"limiting", number, "m", 1, "head position of the least reserve"},
    {"free air", number, "l/min", 1, "bare bore, before leakage"},
    {"running", integer, "min", 0, "at planned speed"},
};

constexpr Column splitters[] = {
    {"splitter", integer, "", 0, "id"},
    {"station", integer, "", 0, ""},
    {"type", text, "", 0, "catalogue name"},
    {"ports", integer, "", 0, ""},
    {"stage", integer, "", 0, "of the split, from 1"},
    {"upstream", integer, "", 0, "splitter that feeds it; empty where an OLT port does"},
    {"upstream port", integer, "", 0, ""},
    {"feed fibre", integer, "", 0, "of the station's feed; empty where fed inside the station"},
    {"pon", integer, "", 0, ""},
    {"fitted", text, "", 0, "day one or later"},
};

constexpr Column pons[] = {
    {"pon", integer, "", 0, "id"},
    {"headend", text, "", 0, ""},
    {"port", integer, "", 0, "OLT port, from 1"},
    {"dwellings day one", integer, "", 0, "at design take-up"},
    {"dwellings ultimate", integer, "", 0, ""},
    {"differential", number, "dB", 3, "largest difference of loss between its dwellings"},
};

constexpr TableSchema tables[] = {
    {"runs.csv", "ducts", "bundle runs", runs},
    {"sections.csv", "ducts", "every microduct of every run, section by section", sections},
    {"joints.csv", "ducts", "microduct connectors, end stops and block connectors", joints},
    {"branch-points.csv", "ducts", "where microducts turn out, are joined or end", branch_points},
    {"links.csv", "fibre", "units and cables, one in each duct path", links},
    {"splitters.csv", "fibre", "splitters and what feeds them", splitters},
    {"pons.csv", "fibre", "OLT ports and what each lights", pons},
    {"blows.csv", "blowing", "every blow, proven in the better direction", blows},
};

}  // namespace

std::span<const TableSchema> plant_tables() {
  return tables;
}

}  // namespace plan
