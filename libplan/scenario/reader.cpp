#include "scenario/reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "base/text.h"
#include "scenario/store.h"

namespace plan {

namespace {

constexpr size_t longest_name = 200;
constexpr size_t most_told = 100;         // unknown keys of one table
constexpr size_t most_candidates = 5000;  // that a suggestion is looked for among

}  // namespace

Diagnostics Faults::sorted() const {
  Diagnostics all = list_;
  std::stable_sort(all.begin(), all.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.place.file, a.place.line, a.place.column) <
           std::tie(b.place.file, b.place.line, b.place.column);
  });
  if (beyond_ > 0)
    all.push_back(
        diagnostic({all.back().place.file, 0, 0}, fmt::format("{} more faults of the kinds above", beyond_)));
  return all;
}

void Names::sort() {
  for (auto& list : lists_) std::sort(list.begin(), list.end());
}

uint32_t Names::find(Refers where, std::string_view name) const {
  const auto& list = of(where);
  const auto at = std::lower_bound(list.begin(), list.end(), name,
                                   [](const Entry& e, std::string_view n) { return e.first < n; });
  return at != list.end() && at->first == name ? at->second : UINT32_MAX;
}

std::string suggestion(std::string_view word, std::span<const std::string_view> candidates) {
  const auto near = nearest_name(word, candidates);
  return near ? fmt::format(", did you mean '{}'", shown(*near)) : std::string();
}

std::string Names::suggestion(Refers where, std::string_view name) const {
  std::vector<std::string_view> candidates;
  for (const Entry& e : of(where)) {
    if (candidates.size() >= most_candidates) break;
    candidates.push_back(e.first);
  }
  return plan::suggestion(name, candidates);
}

std::string found_text(const Tree& t, NodeRef n) {
  switch (t.kind(n)) {
    case TreeKind::list:
      return "a list";
    case TreeKind::mapping:
      return "keys with values";
    case TreeKind::null:
      return "empty";
    default:
      return fmt::format("'{}'", shown(t.text(n)));
  }
}

std::string alternatives(std::span<const std::string_view> words) {
  std::string text;
  for (size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

std::string_view what_is(Refers r) {
  constexpr std::string_view names[] = {"name",    "microduct", "bundle", "chamber", "cabinet",
                                        "cable",   "splitter",  "fibre",  "class",   "colour code",
                                        "surface", "crossing",  "item"};
  static_assert(std::size(names) == static_cast<size_t>(Refers::items) + 1);
  return names[static_cast<size_t>(r)];
}

std::string beside(const std::string& from, std::string_view name) {
  while (name.substr(0, 2) == "./") name.remove_prefix(2);
  const size_t slash = from.rfind('/');
  if (slash == std::string::npos || (!name.empty() && name[0] == '/')) return std::string(name);
  return from.substr(0, slash + 1) + std::string(name);
}

Place spot_place(const Reading& r, const Spot& s) {
  return {r.file_names[s.file], s.line, s.column};
}

Diagnostic spot_fault(const Reading& r, const Tree& document, const Spot& s, std::string message) {
  if (s.node.valid()) return document.fault(s.node, std::move(message));
  return diagnostic(spot_place(r, s), std::move(message));
}

namespace {

Spot spot_at(Reading& r, NodeRef n) {
  const std::string& name = r.tree->file_name(r.tree->file(n));
  auto& names = r.file_names;
  auto at = std::find(names.begin(), names.end(), name);
  if (at == names.end()) at = names.insert(names.end(), name);
  return {r.table ? NodeRef{} : n, r.tree->line(n), r.tree->column(n),
          static_cast<uint16_t>(at - names.begin())};
}

// The field of a key, looked for first where the last one was followed by: rows repeat their keys.
const Field* find_field(const Mapping& m, std::string_view key, size_t& hint) {
  for (size_t k = 0; k < m.fields.size(); ++k) {
    const size_t i = (hint + k) % m.fields.size();
    if (m.fields[i].key != key) continue;
    hint = i + 1;
    return &m.fields[i];
  }
  return nullptr;
}

std::string unknown_key(const Mapping& m, std::string_view key) {
  std::vector<std::string_view> keys;
  for (const Field& f : m.fields) keys.push_back(f.key);
  const std::string near = suggestion(key, keys);
  if (!near.empty() || keys.size() > 12) return fmt::format("unknown key '{}'{}", shown(key), near);
  return fmt::format("unknown key '{}', expected {}", shown(key), alternatives(keys));
}

void fault(Reading& r, NodeRef n, const auto& make) {
  r.faults.add([&] { return r.tree->fault(n, make()); });
}

void expects(Reading& r, NodeRef n, std::string_view what, NodeRef found, std::string_view expected) {
  fault(r, n,
        [&] { return fmt::format("{} is {}, expected {}", what, found_text(*r.tree, found), expected); });
}

void read_entry(Reading& r, NodeRef at, NodeRef node, const Field& f, void* entry) {
  if (f.kind != Kind::mapping) {
    store_scalar(r, node, f, entry);
    return;
  }
  if (f.mapping->spot) *f.mapping->spot(entry) = spot_at(r, at);
  read_mapping(r, at, node, *f.mapping, entry);
}

void read_rows(Reading& r, NodeRef list, const Field& f, void* object) {
  for (NodeRef n = r.tree->first_child(list); n.valid(); n = r.tree->next(n))
    read_entry(r, n, n, f, f.into(object));
}

void read_list(Reading& r, NodeRef list, const Field& f, void* object) {
  if (r.tree->kind(list) != TreeKind::list)
    return expects(r, list, fmt::format("'{}'", f.key), list, "a list");
  f.clear(object);
  read_rows(r, list, f, object);
}

bool left_out(const Tree& t, NodeRef entry) {
  const NodeRef offered = t.find(entry, "offered");
  return offered.valid() && t.kind(offered) == TreeKind::scalar && t.text(offered) == "no";
}

void read_named(Reading& r, NodeRef at, NodeRef node, const Field& f, void* object) {
  const Tree& t = *r.tree;
  if (t.kind(node) != TreeKind::mapping)
    return expects(r, at, fmt::format("'{}'", f.key), node, "keys with values");
  for (NodeRef pair = t.first_child(node); pair.valid(); pair = t.next(pair)) {
    const std::string_view name = t.text(pair);
    if (f.refers != Refers::nothing && r.names.find(f.refers, name) == UINT32_MAX)
      fault(r, pair, [&] {
        return fmt::format("unknown {} '{}'{}", what_is(f.refers), shown(name),
                           r.names.suggestion(f.refers, name));
      });
    if (trimmed(name).empty() || name.size() > longest_name || holds_control(name))
      fault(r, pair,
            [&] { return fmt::format("a name has 1 to {} bytes and no control character", longest_name); });
    if (left_out(t, t.value(pair))) continue;
    void* entry = f.into(object);
    *f.mapping->name_into(entry) = std::string(name);
    read_entry(r, pair, t.value(pair), f, entry);
  }
}

void read_table(Reading& r, NodeRef name, const Field& f, void* object) {
  const std::string& from = r.tree->file_name(r.tree->file(name));
  Reading inner{r.files,          nullptr, r.names, r.faults,
                r.position_scale, true,    nullptr, std::move(r.file_names)};
  f.clear(object);
  const Diagnostics refused =
      r.files.table(beside(from, r.tree->text(name)), f.key, [&](const Tree& tree, NodeRef rows) {
        inner.tree = &tree;
        read_rows(inner, rows, f, object);
      });
  r.file_names = std::move(inner.file_names);
  for (const Diagnostic& d : refused) {
    r.faults.add([&] {
      if (d.place.line > 0) return d;
      return r.tree->fault(
          name, fmt::format("cannot read '{}': {}", beside(from, shown(r.tree->text(name))), d.message));
    });
  }
}

void read_value(Reading& r, NodeRef pair, const Field& f, void* object) {
  const NodeRef node = r.tree->value(pair);
  if (r.tree->kind(node) == TreeKind::null)
    return fault(r, pair, [&] { return fmt::format("'{}' has no value", f.key); });
  if (f.given) *f.given(object) = true;
  switch (f.many) {
    case Many::list:
      return read_list(r, node, f, object);
    case Many::named:
      return read_named(r, pair, node, f, object);
    case Many::rows:
      if (r.tree->kind(node) == TreeKind::scalar) return read_table(r, node, f, object);
      return read_list(r, node, f, object);
    case Many::one:
      break;
  }
  if (f.kind == Kind::mapping) return read_mapping(r, pair, node, *f.mapping, f.into(object));
  if (f.kind == Kind::fragment) {
    if (r.tree->kind(node) != TreeKind::mapping)
      return expects(r, pair, fmt::format("'{}'", f.key), node, "keys with values");
    *static_cast<NodeRef*>(f.into(object)) = node;
    return;
  }
  store_scalar(r, node, f, f.into ? f.into(object) : nullptr);
}

// An unknown key is told once a table, not once a row.
bool first_told(Reading& r, std::string_view key) {
  if (!r.table) return true;
  const auto at = std::find(r.told.begin(), r.told.end(), key);
  if (at == r.told.end() && r.told.size() < most_told) return r.told.emplace_back(key), true;
  return false;
}

uint64_t bit_of(const Mapping& m, const Field& f) {
  return uint64_t{1} << (&f - m.fields.data());
}

// A feature's point where the rows are lines, or the reverse: the field it was meant for.
const Field* other_geometry(const Reading& r, const Mapping& m, std::string_view key) {
  size_t hint = 0;
  if (!r.table || (key != "at" && key != "line")) return nullptr;
  return find_field(m, key == "at" ? "line" : "at", hint);
}

bool blank_cell(const Reading& r, NodeRef node) {
  return r.table && (r.tree->kind(node) == TreeKind::null ||
                     (r.tree->kind(node) == TreeKind::scalar && r.tree->text(node).empty()));
}

}  // namespace

void read_mapping(Reading& r, NodeRef at, NodeRef node, const Mapping& m, void* object) {
  const Tree& t = *r.tree;
  if (t.kind(node) != TreeKind::mapping)
    return expects(
        r, at, t.kind(at) == TreeKind::pair ? fmt::format("'{}'", shown(t.text(at))) : std::string(m.name),
        node, "keys with values");
  uint64_t seen = 0;
  size_t hint = 0;
  for (NodeRef pair = t.first_child(node); pair.valid(); pair = t.next(pair)) {
    const Field* f = find_field(m, t.text(pair), hint);
    if (!f) {
      if (const Field* other = other_geometry(r, m, t.text(pair))) {
        seen |= bit_of(m, *other);
        const bool point = other->key == "line";
        fault(r, pair, [&] {
          return fmt::format("{} is a {}, expected a {}", m.name, point ? "point" : "line",
                             point ? "line" : "point");
        });
      } else if (first_told(r, t.text(pair))) {
        fault(r, pair, [&] { return unknown_key(m, t.text(pair)); });
      }
      continue;
    }
    const uint64_t bit = bit_of(m, *f);
    if (blank_cell(r, t.value(pair))) continue;
    if (seen & bit) fault(r, pair, [&] { return fmt::format("key '{}' stands twice", f->key); });
    seen |= bit;
    if (f != r.skipped) read_value(r, pair, *f, object);
  }
  for (size_t i = 0; i < m.fields.size(); ++i)
    if (m.fields[i].required && !(seen >> i & 1))
      fault(r, at, [&] { return fmt::format("{} needs '{}'", m.name, m.fields[i].key); });
}

}  // namespace plan
