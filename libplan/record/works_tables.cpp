// Tables of what is bought, done and checked: bill, drums, programme, work orders, reconciliation, findings.
#include "record/tables.h"

namespace plan {
namespace {

using enum ColumnKind;

constexpr Column bill[] = {
    {"item", text, "", 0, "catalogue name, opening or work"},
    {"group", text, "", 0, "civil, material or labour"},
    {"unit", text, "", 0, "m, piece or h"},
    {"needed", number, "of its unit", 3, "by the take-off"},
    {"ordered", number, "of its unit", 3, "in whole drums and packs"},
    {"packs", integer, "", 0, "drums or packs; empty for works"},
    {"price", number, "currency per unit", 4, "empty where none is known"},
    {"amount", money, "", 2, ""},
    {"needed on", date, "", 0, "first crew-day that uses it"},
    {"order by", date, "", 0, "that day minus its lead time"},
    {"reasons", text, "", 0, "what it was added up from"},
    {"price source", text, "", 0, ""},
};

constexpr Column drums[] = {
    {"drum", integer, "", 0, "id"},
    {"item", text, "", 0, ""},
    {"length", number, "m", 3, "as ordered"},
    {"cut", integer, "", 0, "in the order of use, from 1"},
    {"metre in", number, "m", 3, "mark on the drum where the cut begins"},
    {"metre out", number, "m", 3, ""},
    {"run", integer, "", 0, "laid from it; empty for a cable"},
    {"link", integer, "", 0, "blown from it; empty for a bundle"},
    {"first use", date, "", 0, ""},
};

constexpr Column programme[] = {
    {"task", integer, "", 0, "id"},
    {"kind", text, "", 0, ""},
    {"area", integer, "", 0, "station"},
    {"surface", text, "", 0, "of dig and reinstate"},
    {"node", integer, "", 0, "first place of work"},
    {"amount", number, "m or pieces", 3, ""},
    {"minutes", integer, "min", 0, "of one crew"},
    {"crew", text, "", 0, ""},
    {"start", integer, "min", 0, "working minutes after the first shift began"},
    {"finish", integer, "min", 0, ""},
    {"before", ids, "", 0, "tasks that must be finished first"},
};

constexpr Column work_orders[] = {
    {"order", text, "", 0, "stable over re-planning"},
    {"date", date, "", 0, ""},
    {"crew", text, "", 0, ""},
    {"stop", integer, "", 0, "in the order of the day, from 1"},
    {"task", integer, "", 0, ""},
    {"kind", text, "", 0, ""},
    {"area", integer, "", 0, "station"},
    {"street", text, "", 0, "route at the stop"},
    {"node", integer, "", 0, ""},
    {"x", number, "m", 3, ""},
    {"y", number, "m", 3, ""},
    {"amount", number, "m or pieces", 3, "this day's share"},
    {"from", integer, "min", 0, "after the shift began"},
    {"to", integer, "min", 0, ""},
    {"continued", flag, "", 0, "1 where begun on an earlier day"},
    {"cautions", text, "", 0, "codes, expanded on the sheet"},
};

constexpr Column reconciliation[] = {
    {"station", integer, "", 0, "area"},
    {"name", text, "", 0, ""},
    {"what", text, "", 0, "dwellings, microducts, fibres, splices, splitter ports, feeder fibres, OLT ports"},
    {"given", integer, "", 0, "what is there"},
    {"used", integer, "", 0, ""},
    {"reserved", integer, "", 0, ""},
    {"spare", integer, "", 0, ""},
    {"dead", integer, "", 0, ""},
    {"difference", integer, "", 0, "given minus the rest; 0 in every row"},
};

constexpr Column findings[] = {
    {"rule", text, "", 0, "stable name of the rule"},
    {"kind", text, "", 0, "finding, or note (which never fails a plan)"},
    {"at", text, "", 0, "what it is about"},
    {"x", number, "m", 3, "where, if it has a place"},
    {"y", number, "m", 3, ""},
    {"actual", number, "of the rule", 3, ""},
    {"limit", number, "of the rule", 3, ""},
    {"text", text, "", 0, ""},
    {"mend", text, "", 0, "what would mend it"},
};

constexpr TableSchema tables[] = {
    {"bill-of-materials.csv", "bom", "what to order, and what the works cost", bill},
    {"drums.csv", "bom", "on which drum each length is cut", drums},
    {"programme.csv", "schedule", "every task, its crew and its time", programme},
    {"work-orders.csv", "orders", "the stops of every crew-day", work_orders},
    {"reconciliation.csv", "report", "counts that must agree, area by area", reconciliation},
    {"findings.csv", "report", "rules the plan cannot meet, and notes", findings},
};

}  // namespace

std::span<const TableSchema> works_tables() {
  return tables;
}

}  // namespace plan
