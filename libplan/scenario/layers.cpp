#include "scenario/layers.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/text.h"
#include "scenario/embedded.h"
#include "scenario/merge.h"
#include "scenario/reader.h"
#include "scenario/yaml.h"

namespace plan {

namespace {

constexpr size_t most_files = 100;

class Layers {
 public:
  Layers(const Files& files, Tree& tree) : files_(files), tree_(tree) {}

  void add_shipped() {
    for (const EmbeddedFile& file : embedded_files())
      add_text(std::string(shipped_folder) + std::string(file.name), std::string(file.text));
  }

  // The file and, below it, what it uses. `asked` is the name in the file above; invalid for the first.
  void add(const std::string& path, NodeRef asked) {
    if (diagnostics.size() >= most_files || !may_open(path, asked)) return;
    Result<std::string> text = files_.text(path);
    if (!text) {
      for (Diagnostic& d : text.diagnostics)
        diagnostics.push_back(
            asked.valid() && d.place.line == 0
                ? tree_.fault(asked, fmt::format("cannot read '{}': {}", shown_path(asked), d.message))
                : std::move(d));
      return;
    }
    const Result<NodeRef> root = parse(path, std::move(*text));
    if (!root) return;
    open_.push_back(path);
    add_used(path, *root);
    open_.pop_back();
    if (asked.valid()) refuse_estate(*root);
    layers_.push_back(*root);
  }

  void merge(NodeRef like) {
    tree_.select_file(tree_.file(like));
    const NodeRef root = tree_.add(TreeKind::mapping, "", 1, 1);
    for (const NodeRef layer : layers_) {
      find_misfits(tree_, root, layer, diagnostics);
      merge_into(tree_, root, layer);
    }
    tree_.set_root(root);
  }
  NodeRef top() const { return layers_.back(); }
  bool empty() const { return layers_.empty(); }

  Diagnostics diagnostics;

 private:
  // The file named at `asked`, cut where the name is absurd.
  std::string shown_path(NodeRef asked) const {
    return beside(tree_.file_name(tree_.file(asked)), shown(tree_.text(asked)));
  }

  bool may_open(const std::string& path, NodeRef asked) {
    std::string message;
    if (const auto at = std::find(open_.begin(), open_.end(), path); at != open_.end()) {
      message = fmt::format("'{}' uses itself", shown_path(asked));
      if (at + 1 != open_.end()) message += fmt::format(" by way of '{}'", open_.back());
    } else if (std::find(seen_.begin(), seen_.end(), path) != seen_.end()) {
      message = fmt::format("'{}' is used twice", shown_path(asked));
    } else if (seen_.size() >= most_files) {
      message = fmt::format("more than {} files are used", most_files);
    }
    if (message.empty()) return seen_.push_back(path), true;
    diagnostics.push_back(tree_.fault(asked, std::move(message)));
    return false;
  }

  Result<NodeRef> parse(const std::string& path, std::string text) {
    Result<NodeRef> root = read_yaml(path, std::move(text), tree_);
    if (root && tree_.kind(*root) != TreeKind::mapping)
      root = failed<NodeRef>(tree_.fault(
          *root, fmt::format("the file is {}, expected keys with values", found_text(tree_, *root))));
    diagnostics.insert(diagnostics.end(), root.diagnostics.begin(), root.diagnostics.end());
    return root;
  }

  void add_text(const std::string& path, std::string text) {
    if (const Result<NodeRef> root = parse(path, std::move(text))) layers_.push_back(*root);
  }

  void add_used(const std::string& path, NodeRef root) {
    const NodeRef use = tree_.find(root, "use");
    if (!use.valid() || tree_.kind(use) != TreeKind::list) return;  // the reader says what is wrong with it
    for (NodeRef n = tree_.first_child(use); n.valid(); n = tree_.next(n))
      if (tree_.kind(n) == TreeKind::scalar) add(beside(path, tree_.text(n)), n);
  }

  void refuse_estate(NodeRef root) {
    for (const std::string_view key : {"estate", "edits"})
      if (const NodeRef pair = tree_.find_pair(root, key); pair.valid())
        diagnostics.push_back(tree_.fault(pair, fmt::format("'{}' belongs in the scenario's own file", key)));
  }

  const Files& files_;
  Tree& tree_;
  std::vector<NodeRef> layers_;
  std::vector<std::string> open_, seen_;
};

}  // namespace

Result<Tree> read_layers(const Files& files, const std::string& path) {
  Tree tree;
  Layers layers(files, tree);
  layers.add_shipped();
  layers.add(path, {});
  if (!layers.diagnostics.empty()) return {{}, std::move(layers.diagnostics)};
  layers.merge(layers.top());
  if (!layers.diagnostics.empty()) return {{}, std::move(layers.diagnostics)};
  return good(std::move(tree));
}

Result<Tree> read_shipped() {
  Tree tree;
  const Files none;
  Layers layers(none, tree);
  layers.add_shipped();
  if (!layers.diagnostics.empty() || layers.empty()) return {{}, std::move(layers.diagnostics)};
  layers.merge(layers.top());
  return good(std::move(tree));
}

}  // namespace plan
