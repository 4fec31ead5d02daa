#include "explain/explain.h"

#include <array>
#include <charconv>
#include <utility>
#include <vector>

#include "base/text.h"
#include "explain/teller.h"

namespace withy {
namespace {

constexpr std::string_view caution =
    "Planning aid only: site survey, utility search, product data, a trial blow and local code decide.\n";

using plan::WrittenPlan;
using Tell = void (Teller::*)(int64_t);

// Things that have a number, and the table that counts them; nodes and spans stand in no such row.
struct NumberedThing {
  std::string_view kind, file;
  Tell tell;
};
constexpr std::array<NumberedThing, 7> numbered{{{"link", "links.csv", &Teller::link},
                                                 {"run", "runs.csv", &Teller::run},
                                                 {"section", "sections.csv", &Teller::section},
                                                 {"dwelling", "dwellings.csv", &Teller::dwelling},
                                                 {"splitter", "splitters.csv", &Teller::splitter},
                                                 {"PON", "pons.csv", &Teller::pon},
                                                 {"task", "programme.csv", &Teller::task}}};

int64_t row_of(const WrittenPlan& plan, std::string_view file, std::string_view column, int64_t wanted) {
  const plan::Cells& cells = plan[file][column];
  for (size_t row = 0; row < cells.size(); ++row)
    if (cells[row] == wanted) return static_cast<int64_t>(row);
  return plan::no_cell;
}

std::optional<std::pair<std::string_view, int64_t>> kind_and_number(std::string_view id) {
  const size_t space = id.rfind(' ');
  if (space == std::string_view::npos) return {};
  int64_t number = 0;
  const char* end = id.data() + id.size();
  const auto read = std::from_chars(id.data() + space + 1, end, number);
  if (read.ec != std::errc() || read.ptr != end || number < 0) return {};
  return std::pair(id.substr(0, space), number);
}

bool stands_at(const WrittenPlan& plan, int64_t node) {
  for (const auto& [file, column] : {std::pair("spans.csv", "from node"), std::pair("spans.csv", "to node"),
                                     std::pair("stations.csv", "node")})
    if (row_of(plan, file, column, node) != plan::no_cell) return true;
  return false;
}

bool tell_numbered(const WrittenPlan& plan, std::string_view id, Teller& teller) {
  const auto thing = kind_and_number(id);
  if (!thing) return false;
  const auto [kind, number] = *thing;
  for (const NumberedThing& n : numbered)
    if (n.kind == kind && number < static_cast<int64_t>(plan[n.file].rows()))
      return (teller.*n.tell)(number), true;
  if (kind == "node" && stands_at(plan, number)) return teller.node(number), true;
  const int64_t span = kind == "span" ? row_of(plan, "spans.csv", "span", number) : plan::no_cell;
  if (span == plan::no_cell) return false;
  return teller.span(span), true;
}

struct NamedThing {
  std::string_view file, column;
  Tell tell;
};
constexpr std::array<NamedThing, 3> named{{{"premises.csv", "premises", &Teller::premises},
                                           {"stations.csv", "name", &Teller::station},
                                           {"bill-of-materials.csv", "item", &Teller::bill_line}}};

bool tell_named(const WrittenPlan& plan, std::string_view id, Teller& teller) {
  const int64_t word = plan.words.find(id);
  if (word == plan::Words::no_word) return false;
  bool any = false;
  for (const NamedThing& n : named)
    if (const int64_t row = row_of(plan, n.file, n.column, word); row != plan::no_cell) {
      if (std::exchange(any, true)) teller.text += '\n';
      (teller.*n.tell)(row);
    }
  return any;
}

}  // namespace

std::optional<std::string> explained(const WrittenPlan& plan, std::string_view id) {
  constexpr std::string_view kind = "premises ";
  Teller teller(plan);
  const bool told = tell_named(plan, id, teller) || tell_numbered(plan, id, teller) ||
                    (id.starts_with(kind) && tell_named(plan, id.substr(kind.size()), teller));
  if (!told) return {};
  return teller.text + std::string(caution);
}

std::optional<std::string> nearest_id(const WrittenPlan& plan, std::string_view id) {
  std::vector<std::string_view> names;
  for (const NamedThing& n : named) {
    const plan::Cells& cells = plan[n.file][n.column];
    for (size_t row = 0; row < cells.size(); ++row) names.push_back(plan.words[cells[row]]);
  }
  const auto near = plan::nearest_name(id, names);
  if (!near) return {};
  return std::string(*near);
}

}  // namespace withy
