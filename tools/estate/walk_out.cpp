// estate-walk-out.csv: street by street, what a person on site is to look at.
#include <algorithm>
#include <map>
#include <string_view>

#include "estate/folder.h"

namespace withy {
namespace {

// What a street leaves to be looked at.
struct Street {
  int64_t length = 0, assumed = 0, premises = 0, entries = 0, dwellings = 0, boundaries = 0, restricted = 0,
          crossings = 0;
  int64_t weight() const { return entries + dwellings + boundaries + 10 * crossings + assumed / 10'000; }
};

}  // namespace

void write_walk_out(const DraftedEstate& estate, const plan::Sink& sink) {
  std::map<std::string_view, Street> streets;
  for (const DraftRoute& r : estate.draft.routes) {
    if (r.duct) continue;
    Street& s = streets[r.street];
    const int64_t length = plan::to_whole_millimetres(plan::polyline_length(r.line));
    s.length += length;
    if (r.surface_known == Known::assumed) s.assumed += length;
    if (r.restricted) s.restricted += length;
    if (!r.crossing.empty()) ++s.crossings;
  }
  for (size_t i = 0; i < estate.draft.premises.size(); ++i) {
    const DraftPremises& p = estate.draft.premises[i];
    const uint32_t route = estate.components.route_of[i];
    Street& s = streets[route == UINT32_MAX ? std::string_view(p.street) : estate.draft.routes[route].street];
    ++s.premises;
    if (p.entry_known == Known::assumed) ++s.entries;
    if (p.dwellings_known == Known::assumed) ++s.dwellings;
    if (p.boundary_known == Known::assumed) ++s.boundaries;
  }
  std::vector<std::pair<std::string_view, const Street*>> order;
  for (const auto& [name, s] : streets) order.emplace_back(name, &s);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.second->weight() > b.second->weight(); });
  sink(
      "street,length m,surface assumed m,restricted m,crossings,premises,entries assumed,dwellings assumed,"
      "boundaries assumed\r\n");
  plan::CsvWriter csv(sink);
  for (const auto& [name, s] : order) {
    csv.text(name.empty() ? "unnamed" : clean_text(name));
    csv.raw(metres_of(s->length)).raw(metres_of(s->assumed)).raw(metres_of(s->restricted));
    csv.integer(s->crossings).integer(s->premises).integer(s->entries).integer(s->dwellings);
    csv.integer(s->boundaries).end_row();
  }
}

}  // namespace withy
