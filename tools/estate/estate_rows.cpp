#include "estate/estate_rows.h"

#include <fmt/core.h>

#include <algorithm>
#include <string_view>

#include "base/text.h"

namespace withy {
namespace {

constexpr int most_dwellings = 2000;                   // that the scenario lets one premises state
constexpr double least_bore = 10, largest_bore = 500;  // mm, likewise

std::string metres_with_unit(int64_t mm) {
  return mm == 0 ? std::string() : metres_of(mm) + " m";
}

std::string said(Known known) {
  constexpr std::string_view words[] = {"assumed", "mapped", "surveyed"};
  return std::string(words[static_cast<size_t>(known)]);
}

std::string position(const std::optional<plan::Point>& p) {
  return p ? metres_of(p->x) + ' ' + metres_of(p->y) : std::string();
}

// What a duct adds to its row: kind, bore, state, content, owner, hire price.
std::array<std::string, 6> duct_values(const MapDuct* duct) {
  if (!duct) return {};
  constexpr std::string_view states[] = {"unproven", "proven", "blocked"};
  const double bore = std::clamp(duct->bore_millimetres, least_bore, largest_bore);
  return {"existing duct",
          plan::shortest(bore) + " mm",
          std::string(states[static_cast<size_t>(duct->state)]),
          duct->content,
          duct->owner,
          duct->hire_price};
}

}  // namespace

const std::array<EstateTable::Column, 11>& premises_columns() {
  static const std::array<EstateTable::Column, 11> columns{{{"name"},
                                                            {"street"},
                                                            {"dwellings", true},
                                                            {"drop from", false, true},
                                                            {"boundary"},
                                                            {"boundary known"},
                                                            {"indoor"},
                                                            {"building point"},
                                                            {"riser"},
                                                            {"entry known"},
                                                            {"dwellings known"}}};
  return columns;
}

PremisesValues values_of(const DraftPremises& p) {
  return {p.name,
          p.street,
          std::to_string(std::clamp(p.dwellings, 1, most_dwellings)),
          position(p.drop_from),
          metres_with_unit(p.boundary),
          p.boundary > 0 ? said(p.boundary_known) : "",
          metres_with_unit(p.indoor),
          p.building_point ? "yes" : "",
          p.building_point ? metres_with_unit(p.riser) : "",
          said(p.entry_known),
          said(p.dwellings_known)};
}

const std::array<EstateTable::Column, 16>& route_columns() {
  static const std::array<EstateTable::Column, 16> columns{{{"name"},
                                                            {"street"},
                                                            {"surface"},
                                                            {"surface known"},
                                                            {"method"},
                                                            {"drops"},
                                                            {"level", true},
                                                            {"restricted"},
                                                            {"crossing"},
                                                            {"forbidden"},
                                                            {"kind"},
                                                            {"bore"},
                                                            {"state"},
                                                            {"content"},
                                                            {"owner"},
                                                            {"hire price"}}};
  return columns;
}

RouteValues values_of(const DraftRoute& r) {
  const bool duct = r.duct != nullptr;
  const auto [kind, bore, state, content, owner, hire] = duct_values(r.duct);
  return {r.name,
          r.street,
          duct ? "" : r.surface,
          duct ? "" : said(r.surface_known),
          r.method,
          r.drops || duct ? "" : "no",
          r.level == 0 ? "" : std::to_string(r.level),
          r.restricted ? "private or restricted, as mapped" : "",
          r.crossing,
          r.forbidden,
          kind,
          bore,
          state,
          content,
          owner,
          hire};
}

void remark_clamped(Draft& draft, const Plane& plane) {
  const auto remark = [&](std::string_view what, const MapId& id, plan::Point at, std::string detail) {
    draft.remarks.push_back({RemarkKind::doubtful, what, id, plane.inverse(at), std::move(detail)});
  };
  for (const DraftPremises& p : draft.premises)
    if (p.dwellings > most_dwellings)
      remark("more dwellings than one premises may state", p.id, p.at,
             fmt::format("{} dwellings, written as {}", p.dwellings, most_dwellings));
  for (const DraftRoute& r : draft.routes)
    if (r.duct && (r.duct->bore_millimetres < least_bore || r.duct->bore_millimetres > largest_bore))
      remark("bore that no duct has", r.id, r.line.front(),
             fmt::format("{} mm, written as {} mm", plan::shortest(r.duct->bore_millimetres),
                         std::clamp(r.duct->bore_millimetres, least_bore, largest_bore)));
}

}  // namespace withy
