// The commented scenario of an estate folder.
#include <fmt/core.h>

#include <algorithm>

#include "base/text.h"
#include "estate/folder.h"

namespace withy {
namespace {

// A YAML text on one line.
std::string yaml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : clean_text(text)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

constexpr size_t premises_a_gang = 1000, most_gangs = 250;  // 500 crews of a kind can be stated

bool any_duct(const Draft& draft) {
  for (const DraftRoute& r : draft.routes)
    if (r.duct) return true;
  return false;
}

std::string headends_text(const Draft& draft, const HeadendRules& rules) {
  std::string text = fmt::format(
      "# Proposed: one per at most {} dwellings of what hangs together, at the street vertex nearest to the\n"
      "# median of its dwellings. Move each to the building you have; its link joins the nearest street.\n"
      "headends:\n",
      rules.most_dwellings);
  for (const DraftHeadend& h : draft.headends)
    text += fmt::format("  - {{name: {}, at: [{}, {}]}}  # for {} dwellings\n", h.name, metres_of(h.at.x),
                        metres_of(h.at.y), h.dwellings);
  if (draft.headends.empty()) text += "  []  # no premises has a street near: see estate-report.txt\n";
  return text;
}

// The shipped gang of five kinds builds some 400 premises a year; many premises ask for many gangs.
// Common practice, no source.
std::string crews_text(size_t premises) {
  const size_t gangs = std::min(premises / premises_a_gang, most_gangs);
  if (gangs < 2) return {};
  return fmt::format(
      "# So many crews that a town is built in some three years: set the numbers to those you have.\n"
      "crews:\n"
      "  - {{name: Dig, skills: [dig, lay, chamber, cabinet, reinstate], people: 5, number: {}}}\n"
      "  - {{name: Duct, skills: [couple, prove], people: 2, number: {}}}\n"
      "  - {{name: Blow, skills: [blow], people: 2, number: {}}}\n"
      "  - {{name: Splice, skills: [splice, test], people: 2, number: {}}}\n"
      "  - {{name: Connect, skills: [connect], people: 2, number: {}}}\n",
      2 * gangs, gangs, gangs, gangs, 2 * gangs);
}

}  // namespace

std::string brief_text(const DraftedEstate& estate, const EstateBrief& brief) {
  const std::string_view tables = ending(table_kind(estate.draft.premises.size()));
  std::string text = fmt::format(
      "# Drafted from a map by `withy estate`: look at estate-report.txt before you plan it. A map knows no\n"
      "# ground, no utilities and no owners: what it shows must be walked out (estate-walk-out.csv) and\n"
      "# searched for buried services before anybody digs.\n");
  if (!licence_text(estate.map).empty()) text += "# Attribution and licence of the data: LICENCE.txt.\n";
  text += fmt::format("scenario: {}\n", yaml_text(brief.name));
  text += fmt::format("start: {}  # set the first day of work\n", brief.start);
  text += "estate:\n  coordinates: metres\n";
  if (!estate.draft.plane.empty())
    text += fmt::format("  reference system: {}\n", yaml_text(estate.draft.plane));
  if (brief.geopackage)
    text += "  premises: estate.gpkg  # its layers premises and routes\n  routes: estate.gpkg\n";
  else
    text += fmt::format("  premises: premises{}\n  routes: routes{}\n", tables, tables);
  text +=
      "  # Rule out single routes, or leave out premises, by name and with a reason:\n"
      "  # forbid: {routes: {name of a route: {why: who fixed it, and why}}}\n"
      "  # leave out: {name of a premises: {why: who fixed it, and why}}\n";
  text += headends_text(estate.draft, brief.headends);
  text += fmt::format(
      "class: {}  # the optical class of the transceivers you buy\n"
      "split:\n  - {{at: cabinet, ratio: {}}}  # or two stages: at headend, then at cabinet\n",
      brief.optical_class, brief.ratio);
  if (any_duct(estate.draft))
    text += "# Existing ducts are used once they are proven: set `state` in the routes after rodding.\n";
  text += crews_text(estate.draft.premises.size());
  text +=
      "# Crews, prices, surfaces, catalogue and rules are the shipped defaults until you write your own:\n"
      "# `withy check --effective scenario.yaml` prints every value with where it comes from.\n";
  return text;
}

}  // namespace withy
