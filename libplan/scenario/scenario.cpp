#include "scenario/scenario.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/text.h"
#include "scenario/draft.h"
#include "scenario/finish.h"
#include "scenario/layers.h"
#include "scenario/merge.h"
#include "scenario/reader.h"

namespace plan {

namespace {

constexpr size_t inline_rows_worth_a_file = 100'000;
constexpr size_t most_edits = 200;  // each is read in whole before anything is planned

bool is_left_out(const Tree& t, NodeRef entry) {
  const NodeRef offered = t.find(entry, "offered");
  return offered.valid() && t.kind(offered) == TreeKind::scalar && t.text(offered) == "no";
}

void add_names(const Tree& t, NodeRef section, Refers where, Names& names) {
  if (!section.valid() || t.kind(section) != TreeKind::mapping) return;
  uint32_t id = 0;
  for (NodeRef p = t.first_child(section); p.valid(); p = t.next(p)) {
    if (where != Refers::surfaces && where != Refers::crossings)
      names.add(Refers::items, t.text(p), 0);  // priced even where it is left out
    if (where != Refers::items && !is_left_out(t, t.value(p))) names.add(where, t.text(p), id++);
  }
}

// Texts that names are made of and that stand nowhere in the tree.
struct MadeNames {
  std::vector<std::string> items;
};

void add_items(const Tree& t, Names& names, MadeNames& made) {
  for (const std::string_view task : task_words) names.add(Refers::items, task, 0);
  const NodeRef others = t.find(t.find(t.root(), "catalogue"), "other items");
  if (others.valid() && t.kind(others) == TreeKind::list)
    for (NodeRef n = t.first_child(others); n.valid(); n = t.next(n)) names.add(Refers::items, t.text(n), 0);
  const auto each_of = [&](std::string_view section, auto&& use) {
    const NodeRef named = t.find(t.root(), section);
    if (!named.valid() || t.kind(named) != TreeKind::mapping) return;
    for (NodeRef p = t.first_child(named); p.valid(); p = t.next(p)) use(t.text(p));
  };
  each_of("surfaces", [&](std::string_view surface) {
    made.items.push_back(opening_item(surface));
    made.items.push_back("reinstate " + std::string(surface));
  });
  each_of("crossings", [&](std::string_view crossing) { made.items.push_back(crossing_item(crossing)); });
  for (const std::string& name : made.items) names.add(Refers::items, name, 0);
}

Names names_of(const Tree& t, MadeNames& made) {
  Names names;
  const NodeRef catalogue = t.find(t.root(), "catalogue");
  constexpr std::pair<std::string_view, Refers> sections[] = {{"microducts", Refers::microducts},
                                                              {"bundles", Refers::bundles},
                                                              {"chambers", Refers::chambers},
                                                              {"cabinets", Refers::cabinets},
                                                              {"cables", Refers::cables},
                                                              {"splitters", Refers::splitters},
                                                              {"fibres", Refers::fibres},
                                                              {"classes", Refers::classes},
                                                              {"colour codes", Refers::colour_codes},
                                                              {"fittings", Refers::items}};
  for (const auto& [key, where] : sections) {
    add_names(t, t.find(catalogue, key), where, names);
  }
  add_names(t, t.find(t.root(), "surfaces"), Refers::surfaces, names);
  add_names(t, t.find(t.root(), "crossings"), Refers::crossings, names);
  add_items(t, names, made);
  names.sort();
  return names;
}

bool says_degrees(const Tree& t) {
  const NodeRef n = t.find(t.find(t.root(), "estate"), "coordinates");
  return n.valid() && t.kind(n) == TreeKind::scalar && t.text(n) == "longitude latitude";
}

const Field* estate_field() {
  for (const Field& f : scenario_words.fields)
    if (f.key == "estate") return &f;
  return nullptr;
}

void refuse_empty(const Finish& f, const Draft& d, const Scenario& s) {
  const bool clean = f.reading.faults.none();
  const auto at = [&](std::string_view key, std::string message) {
    const NodeRef pair = f.document.find_pair(f.document.root(), key);
    if (pair.valid() && clean) f.reading.faults.add([&] { return f.document.fault(pair, message); });
  };
  if (s.demand->premises.empty()) at("estate", "the estate has no premises");
  if (s.demand->routes.empty()) at("estate", "the estate has no routes");
  if (s.demand->headends.empty()) at("headends", "the estate has no headend");
  if (d.split.empty()) at("split", "a PON needs at least one split stage");
  if (d.ducts.bundle_radius.empty()) at("ducts", "'bundle radius' has no rows");
  for (const FibreType& t : d.catalogue.fibre.fibres)
    if (t.attenuation.empty())
      at("catalogue", fmt::format("'attenuation' of '{}' has no rows", shown(t.name)));
  if (d.crews.empty()) at("crews", "there is no crew");
  if (d.calendar.working_days.empty()) at("calendar", "there is no working day");
}

void note_inline(const Draft& d, Scenario& s) {
  if (d.estate.premises.empty() || !d.estate.premises.front().spot.node.valid()) return;
  if (d.estate.premises.size() > inline_rows_worth_a_file)
    s.warnings.push_back(diagnostic(
        {},
        fmt::format("{} premises stand inline, a file of their own reads faster", d.estate.premises.size())));
}

struct Read {
  std::optional<Scenario> scenario;
  Faults faults;
};

// Reads a merged document. With `base`, the estate is the base's own and not read again.
Read read_document(const Files& files, const std::shared_ptr<const Tree>& document, const Scenario* base) {
  Read out;
  MadeNames made;
  const Names names = names_of(*document, made);
  Reading reading{files, document.get(), names, out.faults, says_degrees(*document) ? 1e9 : 1e3};
  if (base) reading.skipped = estate_field();
  Draft draft;
  read_mapping(reading, document->root(), document->root(), scenario_words, &draft);

  Scenario s;
  s.document = document;
  const Finish finish{reading, *document, s.warnings};
  note_inline(draft, s);
  if (base) {
    s.demand = base->demand, s.premises_places = base->premises_places, s.route_places = base->route_places;
    s.row_files = base->row_files;
  } else {
    finish_estate(finish, draft, s);
  }
  finish_rules(finish, draft, s);
  finish_works(finish, draft, s);
  refuse_empty(finish, draft, s);
  for (EditRow& row : draft.edits) s.edits.push_back(std::move(row.edit));
  if (out.faults.none()) out.scenario = std::move(s);
  return out;
}

template <class T>
void keep(Slice<T>& now, const Slice<T>& base) {
  if (now == base) now = base;
}

void keep_equal_slices(Scenario& s, const Scenario& base) {
  keep(s.demand, base.demand);
  keep(s.duct_catalogue, base.duct_catalogue);
  keep(s.fibre_catalogue, base.fibre_catalogue);
  keep(s.layout_rules, base.layout_rules);
  keep(s.duct_rules, base.duct_rules);
  keep(s.fibre_rules, base.fibre_rules);
  keep(s.blow_rules, base.blow_rules);
  keep(s.optic_rules, base.optic_rules);
  keep(s.design_prices, base.design_prices);
  keep(s.prices, base.prices);
  keep(s.stock, base.stock);
  keep(s.crews, base.crews);
  keep(s.site, base.site);
}

bool touches_estate(const Tree& t, NodeRef change) {
  for (const std::string_view key : {"estate", "headends", "surfaces", "crossings", "scenario"})
    if (t.find_pair(change, key).valid()) return true;
  return false;
}

// Where the edit does not fit the shape of what it changes.
Diagnostics misfits(const Scenario& base, const Edit& edit) {
  Diagnostics found;
  find_misfits(*base.document, base.document->root(), edit.change, found);
  return found;
}

// The layout goes on weighing what it weighed: an edit of `prices` changes the bill, one of `design prices`
// the layout. An item that had no price before has none to keep; neither has an edit of the currency.
void keep_design_prices(const Scenario& base, Tree& tree, NodeRef root, NodeRef change) {
  const NodeRef prices = tree.find(root, "prices");
  if (!prices.valid() || !tree.find_pair(change, "prices").valid() ||
      tree.find_pair(change, "currency").valid())
    return;
  tree.select_file(tree.file(prices));
  const NodeRef weighed = tree.add(TreeKind::mapping, "", tree.line(prices), tree.column(prices));
  for (NodeRef pair = tree.first_child(prices); pair.valid(); pair = tree.next(pair))
    if (base.prices->find(tree.text(pair))) tree.append_same(weighed, pair);
  const NodeRef old = tree.find_pair(root, "design prices");
  if (!old.valid()) {
    tree.add_entry(root, "design prices", weighed);
    return;
  }
  const NodeRef design = same_mapping(tree, tree.value(old));
  add_missing(tree, design, weighed);
  tree.set_value(old, design);
}

std::shared_ptr<const Tree> merged(const Scenario& base, const Edit& edit) {
  auto tree = std::make_shared<Tree>(*base.document);
  const NodeRef root = same_mapping(*tree, tree->root());
  keep_design_prices(base, *tree, root, edit.change);
  merge_into(*tree, root, edit.change);
  tree->set_root(root);
  return tree;
}

// What an edit may not do: name the scenario's own parts that are not merged.
void refuse_nested(const Scenario& s, const Edit& e, Faults& faults) {
  for (const std::string_view key : {"use", "edits"})
    if (const NodeRef pair = s.document->find_pair(e.change, key); pair.valid())
      faults.add(
          [&] { return s.document->fault(pair, fmt::format("'{}' cannot be changed by an edit", key)); });
}

void refuse_hold(const Scenario& s, const Edit& e, const Scenario& changed, Faults& faults) {
  const Hold most = most_held(s, changed);
  if (e.hold <= most) return;
  constexpr std::string_view held[] = {"nothing", "the layout", "the ducts", "the quantities"};
  constexpr std::string_view why[] = {"the estate or where it splits", "what ducts are made of",
                                      "which parts the catalogue has"};
  const NodeRef at = s.document->first_child(e.change);
  faults.add([&] {
    return s.document->fault(at.valid() ? at : e.change,
                             fmt::format("edit '{}' cannot hold {}, it changes {}", shown(e.name),
                                         held[static_cast<size_t>(e.hold)], why[static_cast<size_t>(most)]));
  });
}

// Faults of the edits themselves, found before anybody plans them.
void check_edits(const Files& files, const Scenario& s, Faults& faults) {
  std::vector<std::string_view> names;
  for (const Edit& e : s.edits) {
    if (!e.change.valid()) continue;
    if (names.size() >= most_edits)
      return faults.add(
          [&] { return s.document->fault(e.change, fmt::format("more than {} edits", most_edits)); });
    refuse_nested(s, e, faults);
    if (std::find(names.begin(), names.end(), e.name) != names.end())
      faults.add([&] {
        return s.document->fault(e.change, fmt::format("two edits are called '{}'", shown(e.name)));
      });
    names.push_back(e.name);
    const Diagnostics unlike = misfits(s, e);
    for (const Diagnostic& d : unlike) faults.add([&] { return d; });
    if (!unlike.empty()) continue;
    const Read read =
        read_document(files, merged(s, e), touches_estate(*s.document, e.change) ? nullptr : &s);
    for (const Diagnostic& d : read.faults.sorted()) faults.add([&] { return d; });
    if (read.scenario) refuse_hold(s, e, *read.scenario, faults);
  }
}

}  // namespace

bool same_slices(const Scenario& a, const Scenario& b) {
  return a.demand == b.demand && a.duct_catalogue == b.duct_catalogue &&
         a.fibre_catalogue == b.fibre_catalogue && a.layout_rules == b.layout_rules &&
         a.duct_rules == b.duct_rules && a.fibre_rules == b.fibre_rules && a.blow_rules == b.blow_rules &&
         a.optic_rules == b.optic_rules && a.design_prices == b.design_prices && a.prices == b.prices &&
         a.stock == b.stock && a.crews == b.crews && a.site == b.site;
}

Result<Scenario> read_scenario(const Files& files, const std::string& path) {
  Result<Tree> layers = read_layers(files, path);
  if (!layers) return {{}, std::move(layers.diagnostics)};
  Read read = read_document(files, std::make_shared<const Tree>(std::move(*layers)), nullptr);
  if (read.scenario) check_edits(files, *read.scenario, read.faults);
  if (!read.faults.none()) return {{}, read.faults.sorted()};
  return good(std::move(*read.scenario));
}

Result<Scenario> edited(const Files& files, const Scenario& base, const Edit& edit) {
  if (Diagnostics unlike = misfits(base, edit); !unlike.empty()) return {{}, std::move(unlike)};
  const bool estate = touches_estate(*base.document, edit.change);
  Read read = read_document(files, merged(base, edit), estate ? nullptr : &base);
  if (!read.faults.none()) return {{}, read.faults.sorted()};
  keep_equal_slices(*read.scenario, base);
  return good(std::move(*read.scenario));
}

}  // namespace plan
