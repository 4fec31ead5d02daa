#include "estate/vector_mapping.h"

#include <fmt/core.h>

#include <utility>

#include "base/text.h"
#include "scenario/yaml.h"

namespace withy {
namespace {

using plan::NodeRef;
using plan::Tree;
using plan::TreeKind;

constexpr std::pair<std::string_view, Holds> holds_words[] = {
    {"streets", Holds::streets}, {"addresses", Holds::addresses}, {"buildings", Holds::buildings},
    {"plots", Holds::plots},     {"barriers", Holds::barriers},   {"existing ducts", Holds::ducts},
    {"nothing", Holds::nothing}};

struct RoleWord {
  Holds holds;
  std::string_view word;
  Role role;
};
constexpr RoleWord role_words[] = {{Holds::streets, "name", Role::name},
                                   {Holds::streets, "class", Role::street_class},
                                   {Holds::streets, "surface", Role::surface},
                                   {Holds::streets, "access", Role::access},
                                   {Holds::streets, "level", Role::level},
                                   {Holds::streets, "bridge", Role::bridge},
                                   {Holds::streets, "tunnel", Role::tunnel},
                                   {Holds::addresses, "street", Role::street},
                                   {Holds::addresses, "number", Role::number},
                                   {Holds::addresses, "unit", Role::unit},
                                   {Holds::addresses, "address", Role::address},
                                   {Holds::addresses, "dwellings", Role::dwellings},
                                   {Holds::buildings, "kind", Role::kind},
                                   {Holds::buildings, "street", Role::street},
                                   {Holds::buildings, "number", Role::number},
                                   {Holds::buildings, "address", Role::address},
                                   {Holds::buildings, "levels", Role::levels},
                                   {Holds::buildings, "flats", Role::flats},
                                   {Holds::buildings, "use", Role::use},
                                   {Holds::barriers, "kind", Role::kind},
                                   {Holds::barriers, "level", Role::level},
                                   {Holds::barriers, "bridge", Role::bridge},
                                   {Holds::barriers, "tunnel", Role::tunnel},
                                   {Holds::ducts, "name", Role::name},
                                   {Holds::ducts, "bore", Role::bore},
                                   {Holds::ducts, "state", Role::state},
                                   {Holds::ducts, "owner", Role::owner},
                                   {Holds::ducts, "content", Role::content},
                                   {Holds::ducts, "hire price", Role::hire_price}};

class MappingReader {
 public:
  explicit MappingReader(const Tree& tree) : tree_(tree) {}

  std::vector<LayerRule> layers(NodeRef root) {
    std::vector<LayerRule> rules;
    if (!is(root, TreeKind::mapping, "a mapping with 'layers'")) return rules;
    refuse_others(root, {"layers"});
    const NodeRef list = tree_.find(root, "layers");
    if (!list.valid()) return fault(root, "'layers' is missing"), rules;
    if (!is(list, TreeKind::list, "a list of layers")) return rules;
    for (NodeRef n = tree_.first_child(list); n.valid(); n = tree_.next(n)) rules.push_back(layer(n));
    return rules;
  }
  plan::Diagnostics faults;

 private:
  void fault(NodeRef n, std::string message) { faults.push_back(tree_.fault(n, std::move(message))); }
  bool is(NodeRef n, TreeKind kind, std::string_view expected) {
    if (tree_.kind(n) == kind) return true;
    fault(n, fmt::format("expected {}", expected));
    return false;
  }
  void refuse_others(NodeRef mapping, const std::vector<std::string_view>& known) {
    for (NodeRef pair = tree_.first_child(mapping); pair.valid(); pair = tree_.next(pair)) {
      const std::string_view key = tree_.text(pair);
      bool good = false;
      for (const std::string_view word : known) good = good || word == key;
      if (good) continue;
      const auto near = plan::nearest_name(key, known);
      fault(pair, fmt::format("unknown key '{}'{}", plan::shown(key),
                              near ? fmt::format(", did you mean '{}'", *near) : ""));
    }
  }
  std::string text(NodeRef n) {
    return is(n, TreeKind::scalar, "a text") ? std::string(tree_.text(n)) : std::string();
  }

  LayerRule layer(NodeRef n) {
    LayerRule rule;
    if (!is(n, TreeKind::mapping, "a mapping of a layer")) return rule;
    const NodeRef name = tree_.find(n, "layer"), holds = tree_.find(n, "holds");
    if (!name.valid() || !holds.valid()) {
      fault(n, fmt::format("'{}' is missing", name.valid() ? "holds" : "layer"));
      return rule;
    }
    rule.layer = text(name);
    rule.holds = holds_of(holds);
    std::vector<std::string_view> known{"layer", "holds"};
    for (const RoleWord& word : role_words)
      if (word.holds == rule.holds) known.push_back(word.word);
    if (rule.holds != Holds::by_geometry) refuse_others(n, known);
    for (const RoleWord& word : role_words)
      if (const NodeRef value = tree_.find(n, word.word); word.holds == rule.holds && value.valid())
        rule.roles[static_cast<size_t>(word.role)] = role(value, rule.layer);
    return rule;
  }
  Holds holds_of(NodeRef n) {
    const std::string word = text(n);
    std::vector<std::string_view> words;
    for (const auto& [name, holds] : holds_words) {
      if (name == word) return holds;
      words.push_back(name);
    }
    const auto near = plan::nearest_name(word, words);
    fault(n,
          fmt::format("'{}' is nothing a layer holds{}", plan::shown(word),
                      near ? fmt::format(", did you mean '{}'", *near)
                           : ": streets, addresses, buildings, plots, barriers, existing ducts or nothing"));
    return Holds::by_geometry;
  }
  RoleRule role(NodeRef n, const std::string& layer) {
    RoleRule rule;
    NodeRef field = n;
    if (tree_.kind(n) == TreeKind::mapping) {
      refuse_others(n, {"field", "values", "always"});
      field = tree_.find(n, "field");
      if (const NodeRef always = tree_.find(n, "always"); always.valid()) rule.always = text(always);
      if (const NodeRef values = tree_.find(n, "values"); values.valid()) rule.values = table(values);
      if (!field.valid() && rule.always.empty()) fault(n, "neither 'field' nor 'always'");
    }
    if (!field.valid()) return rule;
    rule.fields.push_back(text(field));
    rule.missing = tree_.fault(
        field, fmt::format("layer '{}' has no field '{}'", plan::shown(layer), plan::shown(rule.fields[0])));
    return rule;
  }
  std::map<std::string, std::string> table(NodeRef n) {
    std::map<std::string, std::string> values;
    if (!is(n, TreeKind::mapping, "a mapping of values")) return values;
    for (NodeRef pair = tree_.first_child(n); pair.valid(); pair = tree_.next(pair))
      values.insert({std::string(tree_.text(pair)), text(tree_.value(pair))});
    return values;
  }

  const Tree& tree_;
};

}  // namespace

plan::Result<std::vector<LayerRule>> read_mapping(const std::string& path, std::string text) {
  Tree tree;
  const plan::Result<NodeRef> root = plan::read_yaml(path, std::move(text), tree);
  if (!root) return {{}, root.diagnostics};
  MappingReader reader(tree);
  std::vector<LayerRule> rules = reader.layers(*root);
  if (!reader.faults.empty()) return {{}, reader.faults};
  return plan::good(std::move(rules));
}

LayerRule default_rule() {
  LayerRule rule;
  const auto is = [&rule](Role role, std::vector<std::string> fields) {
    rule.roles[static_cast<size_t>(role)].fields = std::move(fields);
  };
  is(Role::name, {"via_name", "name", "street"});
  is(Role::street, {"street"});
  is(Role::number, {"house_number", "number"});
  is(Role::address, {"address"});
  return rule;
}

}  // namespace withy
