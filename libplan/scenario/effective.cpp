// The merged document printed back as YAML, every value with the file and line it came from.
#include <fmt/core.h>

#include <algorithm>

#include "scenario/scenario.h"

namespace plan {

namespace {

bool plain_safe(std::string_view text) {
  if (text.empty() || text.back() == ' ' || text.back() == ':') return false;
  const auto word = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
  };
  if (!word(text[0]) && !((text[0] == '+' || text[0] == '-') && text.size() > 1 && word(text[1])))
    return false;
  if (text == "null" || text == "Null" || text == "NULL") return false;
  for (size_t i = 0; i < text.size(); ++i) {
    if (text[i] == ':' && i + 1 < text.size() && text[i + 1] != ' ') continue;
    if (!word(text[i]) && std::string_view(" ./%+_-").find(text[i]) == std::string_view::npos) return false;
  }
  return true;
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else {
      out += c;
    }
  }
  return out + '"';
}

class Printer {
 public:
  explicit Printer(const Scenario& scenario) : s_(scenario), t_(*scenario.document) {}

  void document() { mapping(t_.root(), 0); }

  std::string text;

 private:
  void mapping(NodeRef m, int indent) {
    for (NodeRef pair = t_.first_child(m); pair.valid(); pair = t_.next(pair)) {
      const std::string_view key = t_.text(pair);
      if (indent == 0) list_ = list_of(key);
      if (indent == 0 && (key == "use" || all_foreign(t_.value(pair))))
        continue;  // "use" is merged in already
      if (indent == 1 && list_ && !list_->find(key)) continue;
      margin(indent);
      entry(pair, indent);
    }
  }
  const Prices* list_of(std::string_view section) const {
    return section == "prices" ? &*s_.prices : section == "design prices" ? &*s_.design_prices : nullptr;
  }
  // Shipped prices in another currency than the scenario's are not used.
  bool all_foreign(NodeRef section) const {
    if (!list_ || !t_.first_child(section).valid()) return false;
    for (NodeRef pair = t_.first_child(section); pair.valid(); pair = t_.next(pair))
      if (list_->find(t_.text(pair))) return false;
    return true;
  }

  void margin(int indent) { text.append(static_cast<size_t>(indent) * 2, ' '); }
  std::string scalar(NodeRef n) const {
    return t_.quoted(n) || !plain_safe(t_.text(n)) ? quoted(t_.text(n)) : std::string(t_.text(n));
  }
  void end_line(NodeRef from) {
    const Place p = t_.place(from);
    text += fmt::format("  # {}:{}\n", p.file, p.line);
  }
  bool flat(NodeRef n) const {  // fits on a line: scalars, and lists of them
    if (t_.kind(n) == TreeKind::scalar || t_.kind(n) == TreeKind::null || !t_.first_child(n).valid())
      return true;
    if (t_.kind(n) != TreeKind::list) return false;
    for (NodeRef c = t_.first_child(n); c.valid(); c = t_.next(c))
      if (!flat(c)) return false;
    return true;
  }
  void on_one_line(NodeRef n) {
    if (t_.kind(n) == TreeKind::mapping) {
      text += "{}";
    } else if (t_.kind(n) != TreeKind::list) {
      text += scalar(n);
    } else {
      text += '[';
      for (NodeRef c = t_.first_child(n); c.valid(); c = t_.next(c)) {
        if (c != t_.first_child(n)) text += ", ";
        on_one_line(c);
      }
      text += ']';
    }
  }
  void entry(NodeRef pair, int indent) {
    const NodeRef value = t_.value(pair);
    text += plain_safe(t_.text(pair)) ? std::string(t_.text(pair)) : quoted(t_.text(pair));
    text += ':';
    if (flat(value)) {
      text += ' ';
      on_one_line(value);
      return end_line(value);
    }
    text += '\n';
    if (t_.kind(value) == TreeKind::mapping) return mapping(value, indent + 1);
    for (NodeRef c = t_.first_child(value); c.valid(); c = t_.next(c)) item(c, indent + 1);
  }
  // "- key: value" with the further keys below the first.
  void item(NodeRef n, int indent) {
    margin(indent);
    text += "- ";
    if (flat(n) || t_.kind(n) != TreeKind::mapping) {
      on_one_line(n);
      return end_line(n);
    }
    for (NodeRef pair = t_.first_child(n); pair.valid(); pair = t_.next(pair)) {
      if (pair != t_.first_child(n)) margin(indent + 1);
      entry(pair, indent + 1);
    }
  }

  const Scenario& s_;
  const Tree& t_;
  const Prices* list_ = nullptr;  // of the section at hand
};

}  // namespace

std::string effective(const Scenario& scenario) {
  Printer printer(scenario);
  printer.document();
  return std::move(printer.text);
}

}  // namespace plan
