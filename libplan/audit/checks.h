// Private to audit: the groups of rules. Each re-derives one part of the plan from the written tables.
#pragma once
#include "audit/view.h"

namespace plan {

void check_references(const AuditView& view);  // ids, references, words
void check_premises(const AuditView& view);    // every premises and dwelling once, in the right state
void check_runs(const AuditView& view);        // runs over their spans, sections over their runs
void check_paths(const AuditView& view);       // links, duct paths, what is blown into them
void check_joints(const AuditView& view);      // one fitting at each end of each section
void check_splitters(const AuditView& view);   // ports, stages, PONs
void check_fibres(const AuditView& view);      // fibres, splices, what a station may hold
void check_losses(const AuditView& view);      // every ledger added up again
void check_blows(const AuditView& view);
void check_drums(const AuditView& view);      // every length cut once
void check_bill(const AuditView& view);       // quantities counted again, amounts, dates
void check_programme(const AuditView& view);  // crews, precedence, amounts
void check_work_orders(const AuditView& view, const WrittenTable& orders);
void check_reconciliation(const AuditView& view);
void check_summary(const AuditView& view);  // summary.json and findings.csv

// Work done, in millimetres or thousandths of pieces, by the name of its task. Counted from the placed plan.
struct WorkCount {
  int64_t dig = 0, lay = 0, chamber = 0, cabinet = 0, couple = 0, prove = 0, blow = 0;
  int64_t splices_at_stations = 0, splices_at_premises = 0, lit_dwellings = 0;
};
WorkCount count_work(const AuditView& view);
// At build the cable of a link is blown where it has one and the premises is not on order.
bool blown_at_build(const AuditView& view, int64_t link);

}  // namespace plan
