#include "estate/street_rules.h"

#include <algorithm>

#include "base/check.h"
#include "estate/embedded.h"
#include "scenario/yaml.h"

namespace withy {
namespace {

using plan::NodeRef;
using plan::Tree;

constexpr std::array<std::string_view, std::tuple_size_v<decltype(StreetTable::classes)>> names{
    "trunk",         "primary",    "secondary", "tertiary", "unclassified", "residential",
    "living_street", "pedestrian", "service",   "road",     "footway",      "path",
    "cycleway",      "track",      "bridleway", "steps",    "unstated"};

bool holds(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::string_view text_at(const Tree& tree, NodeRef mapping, std::string_view key) {
  const NodeRef value = tree.find(mapping, key);
  return value.valid() ? tree.text(value) : std::string_view{};
}

std::vector<std::string> words_at(const Tree& tree, NodeRef root, std::string_view key) {
  std::vector<std::string> words;
  const NodeRef list = tree.find(root, key);
  PLAN_CHECK(list.valid());
  for (NodeRef word = tree.first_child(list); word.valid(); word = tree.next(word))
    words.emplace_back(tree.text(word));
  return words;
}

}  // namespace

std::string_view class_name(StreetClass c) {
  return names[static_cast<size_t>(c)];
}

std::string_view StreetTable::surface_of(std::string_view stated, StreetClass c) const {
  if (holds(unpaved, stated)) return "unpaved track";
  if (holds(green, stated)) return "verge";
  if (!holds(paved, stated)) return "";
  const std::string_view usual = (*this)[c].surface;
  return usual == "unpaved track" ? "paved footway" : usual;
}

bool StreetTable::is_restricted(std::string_view access) const {
  return holds(restricted, access);
}

StreetTable street_table() {
  const auto files = embedded_files();
  const auto file = std::find_if(files.begin(), files.end(),
                                 [](const EmbeddedFile& f) { return f.name == "streets.yaml"; });
  PLAN_CHECK(file != files.end());
  Tree tree;
  const auto root = plan::read_yaml("streets.yaml", std::string(file->text), tree);
  PLAN_CHECK(root);
  const NodeRef classes = tree.find(*root, "classes");
  PLAN_CHECK(classes.valid());
  StreetTable table;
  for (size_t i = 0; i < names.size(); ++i) {
    const NodeRef row = tree.find(classes, names[i]);
    PLAN_CHECK(row.valid());
    table.classes[i] = {std::string(text_at(tree, row, "surface")), text_at(tree, row, "drops") != "no",
                        text_at(tree, row, "soft") == "yes"};
  }
  table.paved = words_at(tree, *root, "paved");
  table.unpaved = words_at(tree, *root, "unpaved");
  table.green = words_at(tree, *root, "green");
  table.restricted = words_at(tree, *root, "restricted");
  return table;
}

}  // namespace withy
