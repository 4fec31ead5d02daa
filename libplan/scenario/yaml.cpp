#include "scenario/yaml.h"

#include <fmt/core.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>

#include "base/text.h"

namespace plan {

namespace {

struct Stop {};  // thrown through the parser once going on makes no sense

// Byte offsets to character columns, line by line.
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text), starts_{0} {
    for (size_t i = 0; i < text.size(); ++i)
      if (text[i] == '\n') starts_.push_back(i + 1);
  }
  size_t offset(const YAML::Mark& mark) const {
    const size_t line = std::min(static_cast<size_t>(std::max(mark.line, 0)), starts_.size() - 1);
    return std::min(starts_[line] + static_cast<size_t>(std::max(mark.column, 0)), text_.size());
  }
  uint32_t line(const YAML::Mark& mark) const { return static_cast<uint32_t>(std::max(mark.line, 0)) + 1; }
  // Counted on from the last column asked for, so that one long line costs its length once.
  uint32_t column(const YAML::Mark& mark) {
    const size_t line = std::min(static_cast<size_t>(std::max(mark.line, 0)), starts_.size() - 1);
    const size_t end = offset(mark);
    if (counted_to_ < starts_[line] || counted_to_ > end) counted_to_ = starts_[line], counted_ = 1;
    for (; counted_to_ < end; ++counted_to_)
      if ((static_cast<unsigned char>(text_[counted_to_]) & 0xC0) != 0x80) ++counted_;
    return counted_;
  }
  std::string_view text(const YAML::Mark& mark) const {
    const size_t first = starts_[std::min(static_cast<size_t>(std::max(mark.line, 0)), starts_.size() - 1)];
    return text_.substr(first, text_.find('\n', first) - first);
  }

 private:
  std::string_view text_;
  std::vector<size_t> starts_;
  size_t counted_to_ = 0;
  uint32_t counted_ = 1;
};

// Whether the quoted text that begins at `open` is closed before the file ends.
bool closed(std::string_view text, size_t open) {
  const char quote = text[open];
  for (size_t i = open + 1; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == quote) {
      if (quote == '"' || i + 1 >= text.size() || text[i + 1] != '\'') return true;
      ++i;
    }
  }
  return false;
}

constexpr std::string_view no_aliases = "aliases are refused, write the value out";
constexpr std::string_view unknown_alias = "the referenced anchor is not defined";
constexpr std::string_view end_of_list = "end of sequence flow not found";
constexpr std::string_view end_of_mapping = "end of map flow not found";

// The parser's reasons that say little to a person who did not write a parser.
std::string in_words(const std::string& reason) {
  constexpr std::pair<std::string_view, std::string_view> words[] = {
      {"illegal map value",
       "no key can stand here: look at the indentation, and quote a text that holds ': '"},
      {"end of map not found", "a key with ':' is expected here, or an end of its mapping"},
      {"end of sequence not found", "a '-' is expected here, or an end of its list"},
      {"illegal flow end", "this bracket closes none that is open here"},
      {"illegal block entry", "no '-' can stand here"},
      {"unknown token", "no text can begin with this character; it is written in quotes"}};
  for (const auto& [theirs, ours] : words)
    if (reason == theirs) return std::string(ours);
  return shown(reason);
}

constexpr size_t most_faults = 1000;

class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(std::string_view text, Tree& tree, YamlLimits limits)
      : text_(text), lines_(text), tree_(tree), limits_(limits) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ > 1) stop(mark, "a second document begins here, one file holds one document");
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    if (expects_key()) return key_fault(mark);
    place(open_pair_.valid() ? tree_.add(TreeKind::null, tree_.text(open_pair_), tree_.line(open_pair_),
                                         tree_.column(open_pair_))
                             : node(TreeKind::null, "", mark));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override { stop(mark, std::string(no_aliases)); }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_tag(mark, tag);
    refuse_anchor(mark, anchor);
    const bool quoted = tag == "!";
    if (quoted) check_closed(mark);
    if (expects_key()) {
      open_pair_ = node(TreeKind::pair, value, mark, quoted);
    } else {
      place(node(TreeKind::scalar, value, mark, quoted));
    }
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(TreeKind::list, mark, tag, anchor);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(TreeKind::mapping, mark, tag, anchor);
  }
  void OnMapEnd() override {
    if (!open_.empty()) refuse_repeated_keys(open_.back().node);
    close();
  }

  void fault(const YAML::Mark& mark, std::string message) {
    fault(tree_.add(TreeKind::scalar, "", lines_.line(mark), lines_.column(mark)), std::move(message));
  }
  // What the parser gave up on, in words that say what to do.
  void syntax_fault(YAML::Mark mark, const std::string& reason) {
    const std::string_view line = lines_.text(mark);
    const size_t begin = line.find_first_not_of(" \t"), tab = line.find('\t');
    if (tab < begin) {
      mark.column = static_cast<int>(tab);
      fault(mark, "a tab cannot indent, use spaces");
    } else if (reason == unknown_alias) {
      fault(mark, std::string(no_aliases));
    } else if ((reason == end_of_list || reason == end_of_mapping) && !open_.empty()) {
      fault(open_.back().node,
            fmt::format("the '{}' that begins here is never closed", reason == end_of_list ? '[' : '{'));
    } else {
      fault(mark, fmt::format("not valid YAML: {}", in_words(reason)));
    }
  }

  NodeRef root;
  Diagnostics diagnostics;

 private:
  struct Open {
    NodeRef node, pair;  // the pair of the mapping around it that it is the value of
  };

  void fault(NodeRef n, std::string message) {
    diagnostics.push_back(tree_.fault(n, std::move(message)));
    if (diagnostics.size() >= most_faults) throw Stop{};
  }
  [[noreturn]] void stop(const YAML::Mark& mark, std::string message) {
    fault(mark, std::move(message));
    throw Stop{};
  }
  NodeRef node(TreeKind kind, std::string_view text, const YAML::Mark& mark, bool quoted = false) {
    if (++nodes_ > limits_.nodes)
      stop(mark, fmt::format("more than {} values in one file, put large tables into files of their own",
                             limits_.nodes));
    return tree_.add(kind, text, lines_.line(mark), lines_.column(mark), quoted);
  }
  bool expects_key() const {
    return !open_.empty() && tree_.kind(open_.back().node) == TreeKind::mapping && !open_pair_.valid();
  }
  void key_fault(const YAML::Mark& mark) { stop(mark, "a key must be plain text"); }

  // Puts a finished value where it belongs.
  void place(NodeRef n) {
    if (open_.empty()) {
      root = n;
    } else if (open_pair_.valid()) {
      tree_.append(open_pair_, n);
      tree_.append(open_.back().node, open_pair_);
      open_pair_ = {};
    } else {
      tree_.append(open_.back().node, n);
    }
  }
  void open(TreeKind kind, const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    refuse_tag(mark, tag);
    refuse_anchor(mark, anchor);
    if (expects_key()) key_fault(mark);
    if (static_cast<int>(open_.size()) >= limits_.depth)
      stop(mark, fmt::format("nested deeper than {} levels", limits_.depth));
    open_.push_back({node(kind, "", mark), open_pair_});
    open_pair_ = {};
  }
  void close() {
    const Open done = open_.back();
    open_.pop_back();
    open_pair_ = done.pair;
    place(done.node);
  }

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    if (!tag.empty() && tag != "?" && tag != "!")
      fault(mark, fmt::format("tag '{}' is refused, values are plain", shown(tag)));
  }
  void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
    if (anchor != 0) fault(mark, "anchors are refused, write the value out where it is used");
  }
  void check_closed(const YAML::Mark& mark) {
    const size_t at = lines_.offset(mark);
    if (at < text_.size() && (text_[at] == '"' || text_[at] == '\'') && !closed(text_, at))
      stop(mark, "the quoted text that begins here is never closed");
  }
  void refuse_repeated_keys(NodeRef mapping) {
    std::vector<NodeRef> pairs;
    for (NodeRef p = tree_.first_child(mapping); p.valid(); p = tree_.next(p)) pairs.push_back(p);
    std::stable_sort(pairs.begin(), pairs.end(),
                     [&](NodeRef a, NodeRef b) { return tree_.text(a) < tree_.text(b); });
    for (size_t i = 1; i < pairs.size(); ++i)
      if (tree_.text(pairs[i]) == tree_.text(pairs[i - 1]))
        fault(pairs[i], fmt::format("key '{}' stands twice, first in line {}", shown(tree_.text(pairs[i])),
                                    tree_.line(pairs[i - 1])));
  }

  std::string_view text_;
  Lines lines_;
  Tree& tree_;
  YamlLimits limits_;
  std::vector<Open> open_;
  NodeRef open_pair_;
  size_t nodes_ = 0;
  int documents_ = 0;
};

std::string bytes_fault(std::string_view text, YamlLimits limits) {
  if (text.size() > limits.bytes)
    return fmt::format("file of {} bytes exceeds the limit of {}, put large tables into files of their own",
                       text.size(), limits.bytes);
  const auto starts = [&](std::string_view mark) { return text.substr(0, mark.size()) == mark; };
  if (starts("\xFF\xFE") || starts("\xFE\xFF")) return "file is UTF-16, expected UTF-8";
  if (text.find('\0') != std::string_view::npos) return "file holds a zero byte, expected UTF-8 text";
  return {};
}

void parse_or_fault(const std::string& text, TreeBuilder& builder) {
  try {
    std::istringstream stream(text);
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const YAML::Exception& e) {
    builder.syntax_fault(e.mark, e.msg);
  }
}

void parse(const std::string& text, TreeBuilder& builder) {
  try {
    parse_or_fault(text, builder);
  } catch (const Stop&) {
  }
}

}  // namespace

Result<NodeRef> read_yaml(const std::string& path, std::string text, Tree& into, YamlLimits limits) {
  if (std::string fault = bytes_fault(text, limits); !fault.empty())
    return failed<NodeRef>(diagnostic({path, 0, 0}, std::move(fault)));
  if (const size_t good_bytes = utf8_bytes(text); good_bytes < text.size())
    return failed<NodeRef>(diagnostic(place_of_byte(path, text, good_bytes), "byte that is not UTF-8"));
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.erase(0, 3);
  into.select_file(into.add_file(path, text));
  TreeBuilder builder(text, into, limits);
  parse(text, builder);
  if (!builder.diagnostics.empty()) return {{}, std::move(builder.diagnostics)};
  if (!builder.root.valid() || into.kind(builder.root) == TreeKind::null)
    return failed<NodeRef>(diagnostic({path, 0, 0}, "file says nothing"));
  return good(builder.root);
}

}  // namespace plan
