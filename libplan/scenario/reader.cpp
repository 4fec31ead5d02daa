#include "scenario/reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "base/text.h"
#include "scenario/store.h"

namespace plan {

Diagnostics Faults::sorted() const {
  Diagnostics all = list_;
  std::stable_sort(all.begin(), all.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.place.file, a.place.line, a.place.column) < std::tie(b.place.file, b.place.line, b.place.column);
  });
  if (beyond_ > 0)
    all.push_back(diagnostic({all.back().place.file, 0, 0}, fmt::format("{} more faults of the kinds above", beyond_)));
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
  return near ? fmt::format(", did you mean '{}'", *near) : std::string();
}

std::string Names::suggestion(Refers where, std::string_view name) const {
  std::vector<std::string_view> candidates;
  for (const Entry& e : of(where)) candidates.push_back(e.first);
  return plan::suggestion(name, candidates);
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
  constexpr std::string_view names[] = {"name",     "microduct", "bundle", "chamber",     "cabinet", "cable",
                                        "splitter", "fibre",     "class",  "colour code", "surface", "item"};
  return names[static_cast<size_t>(r)];
}

std::string beside(const std::string& from, std::string_view name) {
  const size_t slash = from.rfind('/');
  if (slash == std::string::npos || (!name.empty() && name[0] == '/')) return std::string(name);
  return from.substr(0, slash + 1) + std::string(name);
}

Place spot_place(const Reading& r, const Spot& s) { return {r.file_names[s.file], s.line, s.column}; }

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
  return {r.table ? NodeRef{} : n, r.tree->line(n), r.tree->column(n), static_cast<uint16_t>(at - names.begin())};
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
  if (!near.empty() || keys.size() > 12) return fmt::format("unknown key '{}'{}", key, near);
  return fmt::format("unknown key '{}', {} has {}", key, m.name, alternatives(keys));
}

void fault(Reading& r, NodeRef n, const auto& make) {
  r.faults.add([&] { return r.tree->fault(n, make()); });
}

void read_entry(Reading& r, NodeRef at, NodeRef node, const Field& f, void* entry) {
  if (f.kind != Kind::mapping) {
    store_scalar(r, node, f, entry);
    return;
  }
  if (f.mapping->spot) *f.mapping->spot(entry) = spot_at(r, at);
  read_mapping(r, at, node, *f.mapping, entry);
}

void read_list(Reading& r, NodeRef list, const Field& f, void* object) {
  if (r.tree->kind(list) != TreeKind::list)
    return fault(r, list, [&] { return fmt::format("'{}' is no list", f.key); });
  f.clear(object);
  for (NodeRef n = r.tree->first_child(list); n.valid(); n = r.tree->next(n)) read_entry(r, n, n, f, f.into(object));
}

bool left_out(const Tree& t, NodeRef entry) {
  const NodeRef offered = t.find(entry, "offered");
  return offered.valid() && t.kind(offered) == TreeKind::scalar && t.text(offered) == "no";
}

void read_named(Reading& r, NodeRef at, NodeRef node, const Field& f, void* object) {
  const Tree& t = *r.tree;
  if (t.kind(node) != TreeKind::mapping)
    return fault(r, at, [&] { return fmt::format("'{}' is no mapping from names to entries", f.key); });
  for (NodeRef pair = t.first_child(node); pair.valid(); pair = t.next(pair)) {
    const std::string_view name = t.text(pair);
    if (f.refers != Refers::nothing && r.names.find(f.refers, name) == UINT32_MAX)
      fault(r, pair, [&] {
        return fmt::format("unknown {} '{}'{}", what_is(f.refers), name, r.names.suggestion(f.refers, name));
      });
    if (trimmed(name).empty() || name.size() > 200)
      fault(r, pair, [&] { return std::string("a name of 1 to 200 bytes is expected here"); });
    if (left_out(t, t.value(pair))) continue;
    void* entry = f.into(object);
    *f.mapping->name_into(entry) = std::string(name);
    read_entry(r, pair, t.value(pair), f, entry);
  }
}

void read_table(Reading& r, NodeRef name, const Field& f, void* object) {
  Tree rows;
  const std::string path = beside(r.tree->file_name(r.tree->file(name)), r.tree->text(name));
  const Result<NodeRef> list = r.files.table(path, rows);
  for (const Diagnostic& d : list.diagnostics) {
    r.faults.add([&] {
      return d.place.line == 0 ? r.tree->fault(name, fmt::format("cannot read '{}': {}", path, d.message)) : d;
    });
  }
  if (!list) return;
  Reading inner{r.files, &rows, r.names, r.faults, r.position_scale, true, nullptr, std::move(r.file_names)};
  read_list(inner, *list, f, object);
  r.file_names = std::move(inner.file_names);
}

void read_value(Reading& r, NodeRef pair, const Field& f, void* object) {
  const NodeRef node = r.tree->value(pair);
  if (r.tree->kind(node) == TreeKind::null)
    return fault(r, pair, [&] { return fmt::format("'{}' has no value", f.key); });
  if (f.given) *f.given(object) = true;
  switch (f.many) {
    case Many::list: return read_list(r, node, f, object);
    case Many::named: return read_named(r, pair, node, f, object);
    case Many::rows:
      if (r.tree->kind(node) == TreeKind::scalar) return read_table(r, node, f, object);
      return read_list(r, node, f, object);
    case Many::one: break;
  }
  if (f.kind == Kind::mapping) return read_mapping(r, pair, node, *f.mapping, f.into(object));
  if (f.kind == Kind::fragment) {
    if (r.tree->kind(node) != TreeKind::mapping)
      return fault(r, pair, [&] { return fmt::format("'{}' is no mapping of keys", f.key); });
    *static_cast<NodeRef*>(f.into(object)) = node;
    return;
  }
  store_scalar(r, node, f, f.into ? f.into(object) : nullptr);
}

bool blank_cell(const Reading& r, NodeRef node) {
  return r.table && (r.tree->kind(node) == TreeKind::null ||
                     (r.tree->kind(node) == TreeKind::scalar && r.tree->text(node).empty()));
}

}  // namespace

void read_mapping(Reading& r, NodeRef at, NodeRef node, const Mapping& m, void* object) {
  const Tree& t = *r.tree;
  if (t.kind(node) != TreeKind::mapping)
    return fault(r, at, [&] { return fmt::format("{} is written as keys with values", m.name); });
  uint64_t seen = 0;
  size_t hint = 0;
  for (NodeRef pair = t.first_child(node); pair.valid(); pair = t.next(pair)) {
    const Field* f = find_field(m, t.text(pair), hint);
    if (!f) {
      fault(r, pair, [&] { return unknown_key(m, t.text(pair)); });
      continue;
    }
    const uint64_t bit = uint64_t{1} << (f - m.fields.data());
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
