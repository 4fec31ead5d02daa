// Tables of the estate as planned: stations, spans, premises, dwellings.
#include "record/tables.h"

namespace plan {
namespace {

using enum ColumnKind;

constexpr Column stations[] = {
    {"station", integer, "", 0, "id"},
    {"name", text, "", 0, "how it is called on work orders"},
    {"kind", text, "", 0, "headend, cabinet, branch point or building"},
    {"node", integer, "", 0, "street node where it stands"},
    {"x", number, "m", 3, "east on the plan's plane"},
    {"y", number, "m", 3, "north on the plan's plane"},
    {"upstream", integer, "", 0, "station that feeds it; empty for a headend"},
    {"headend", text, "", 0, "headend it belongs to"},
    {"type", text, "", 0, "catalogue type of a cabinet"},
    {"premises served", integer, "", 0, "directly"},
    {"dwellings served", integer, "", 0, "directly"},
    {"splitters day one", integer, "", 0, "fitted at build"},
    {"splitters ultimate", integer, "", 0, "when every dwelling is connected"},
    {"feed fibres", integer, "", 0, "used of the cable that feeds it"},
    {"splices", integer, "", 0, ""},
    {"trays", integer, "", 0, ""},
    {"microduct entries limit", integer, "", 0, "of its type; empty = not limited"},
    {"drop fibres limit", integer, "", 0, "of its type; empty = not limited"},
    {"splitter slots limit", integer, "", 0, "of its type; empty = not limited"},
    {"trays limit", integer, "", 0, "of its type; empty = not limited"},
};

constexpr Column spans[] = {
    {"span", integer, "", 0, "id"},
    {"from node", integer, "", 0, ""},
    {"to node", integer, "", 0, ""},
    {"kind", text, "", 0, "street, drop, link or existing duct"},
    {"route", text, "", 0, "name of the route it is a piece of"},
    {"surface", text, "", 0, ""},
    {"method", text, "", 0, "how the ground is opened; empty = the surface's usual way"},
    {"length", number, "m", 3, ""},
    {"opened", flag, "", 0, "1 where the ground is opened"},
    {"used", flag, "", 0, "1 where anything is laid"},
    {"opening cost", money, "", 2, "at design prices"},
    {"runs", ids, "", 0, "bundle runs that lie in it"},
    {"surface known", text, "", 0, "assumed, mapped or surveyed"},
    {"cover", text, "", 0, "rule for depth of cover; `to local code` where none is stated"},
    {"separation", text, "", 0, "rule for separation; `to local code` where none is stated"},
    {"permit", text, "", 0, "permit zone"},
    {"crossing", text, "", 0, "special crossing that its route makes; empty = none"},
    {"restricted", text, "", 0, "how the way is restricted; empty = open to all"},
    {"rise", number, "m", 3, "climb from the first node to the second; empty = heights not known"},
    {"owner", text, "", 0, "whose existing duct it is; empty = own, or a trench"},
    {"content", text, "", 0, "what an existing duct holds already, as written"},
    {"hire price", text, "", 0, "of an existing duct, as written; not part of the bill"},
};

constexpr Column walk_out[] = {
    {"street", text, "", 0, "street, or the route's own name where it names none"},
    {"opened", number, "m", 3, "ground opened, drops included"},
    {"opened on assumption", number, "m", 3, "of it: surface assumed, or a drop to an assumed entry"},
    {"opened on restricted ways", number, "m", 3, "of it: permission to be asked"},
    {"crossings", integer, "", 0, "special crossings"},
    {"unproven ducts", integer, "", 0, "existing ducts that the plan leaves alone until they are proven"},
    {"blocked ducts", integer, "", 0, "existing ducts known to be blocked"},
    {"premises", integer, "", 0, "whose drop leaves this street"},
    {"entries assumed", integer, "", 0, "of them"},
    {"dwellings assumed", integer, "", 0, "of them"},
    {"boundaries assumed", integer, "", 0, "of them: plot boundary assumed or not known"},
    {"consents", integer, "", 0, "of them: somebody must agree to the entry"},
};

constexpr Column premises[] = {
    {"premises", text, "", 0, "name"},
    {"street", text, "", 0, ""},
    {"x", number, "m", 3, "east on the plan's plane"},
    {"y", number, "m", 3, "north on the plan's plane"},
    {"connect", text, "", 0, "at build, on order or never"},
    {"drop laid", text, "", 0, "to door, to boundary or none"},
    {"dwellings", integer, "", 0, ""},
    {"state", text, "", 0, "lit, reserved, not planned or unserved"},
    {"station", integer, "", 0, "that serves it"},
    {"link", integer, "", 0, "its unit and duct path"},
    {"duct path", ids, "", 0, "sections from the station to its entry"},
    {"duct length", number, "m", 3, "nominal"},
    {"unit", text, "", 0, "fibre unit blown in"},
    {"fibres used", integer, "", 0, ""},
    {"unit length", number, "m", 3, "with slack and tails"},
    {"blow", text, "", 0, "passes or refused; empty where nothing is blown"},
    {"entry known", text, "", 0, "assumed, mapped or surveyed"},
    {"consent", text, "", 0, "who must agree to the entry"},
    {"boundary", number, "m", 3, "from the street to the plot boundary; 0 = unknown"},
    {"building point", flag, "", 0, "1 where each dwelling has its own indoor fibre"},
    {"indoor", number, "m", 3, "from the entry to the outlet or building point"},
    {"riser", number, "m", 3, "building point to the farthest outlet"},
};

constexpr Column dwellings[] = {
    {"dwelling", integer, "", 0, "id"},
    {"premises", text, "", 0, ""},
    {"number", integer, "", 0, "within its premises"},
    {"state", text, "", 0, "lit, reserved or unlit"},
    {"link", integer, "", 0, "the unit that ends at its premises"},
    {"fibre", integer, "", 0, "position in the unit"},
    {"fibre colour", text, "", 0, "after the unit's colour code"},
    {"splitter", integer, "", 0, "the last on its light path"},
    {"port", integer, "", 0, "of that splitter"},
    {"pon", integer, "", 0, ""},
    {"glass", number, "m", 3, "OLT port to outlet"},
    {"down most", number, "dB", 3, "largest planned loss downstream, margin included"},
    {"down least", number, "dB", 3, "least loss downstream"},
    {"up most", number, "dB", 3, "largest planned loss upstream, margin included"},
    {"up least", number, "dB", 3, "least loss upstream"},
    {"margin down", number, "dB", 3, "class maximum minus largest loss"},
    {"margin up", number, "dB", 3, "class maximum minus largest loss"},
    {"overload margin", number, "dB", 3, "least loss minus class minimum"},
    {"test limit", number, "dB", 3, "largest loss a test may read downstream; never the class maximum"},
};

constexpr TableSchema tables[] = {
    {"premises.csv", "ducts", "every premises of the estate, served or not", premises},
    {"dwellings.csv", "optics", "every planned dwelling, its port and its loss", dwellings},
    {"stations.csv", "layout", "headends, cabinets, branch points and buildings with splitters", stations},
    {"spans.csv", "layout", "every span of the street graph in which anything lies", spans},
    {"walk-out.csv", "takeoff", "what to look at on site before building, street by street", walk_out},
};

}  // namespace

std::span<const TableSchema> estate_tables() {
  return tables;
}

}  // namespace plan
