#include "estate/names.h"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "base/parallel.h"
#include "base/text.h"

namespace withy {
namespace {

constexpr size_t longest_name = 180;  // bytes; the scenario takes 200, a suffix follows

// Letters U+00C0 … U+017F as their base letters; ' ' for none, '*' for the others.
constexpr std::string_view latin =
    "aaaaaa*ceeeeiiiidnooooo ouuuuy**aaaaaa*ceeeeiiiidnooooo ouuuuy*y"
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiii**jjkkkllllll*"
    "*llnnnnnnnnnoooooo**rrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
static_assert(latin.size() == 0x180 - 0xC0);

std::string_view other_letters(uint32_t letter) {
  switch (letter) {
    case 0xC6:
    case 0xE6:
      return "ae";
    case 0xDE:
    case 0xFE:
      return "th";
    case 0xDF:
      return "ss";
    case 0x132:
    case 0x133:
      return "ij";
    case 0x13F:
    case 0x140:
      return "l";
    default:
      return "oe";
  }
}

// Words before a name or behind it, folded. Joined ones are looked for at the end of the last word.
constexpr std::array before = {
    "acesso",  "acs",     "al",    "ala",        "alameda",   "av",    "ave",    "avenida", "avenue",
    "bc",      "bd",      "bec",   "beco",       "boulevard", "calle", "chemin", "corso",   "est",
    "estrada", "ladeira", "largo", "lg",         "lrg",       "pc",    "pca",    "plaza",   "praca",
    "r",       "rdp",     "rod",   "rodovia",    "rua",       "rue",   "strada", "trav",    "travessa",
    "tre",     "trevo",   "tri",   "trincheira", "trv",       "tunel", "tv",     "vdp",     "vdt",
    "via",     "viaduto", "viale", "viela",      "vl",        "vla"};
constexpr std::array behind = {"ave", "avenue", "ln", "lane", "rd", "road", "st", "str", "strasse", "street"};
constexpr std::array joined = {"strasse", "str", "straat", "gatan", "gate"};

template <class List>
bool among(const List& list, std::string_view word) {
  return std::any_of(list.begin(), list.end(), [&](const char* w) { return word == w; });
}

// Lower-case words of base letters and digits, one blank between them.
std::string base_letters(std::string_view name) {
  std::string out;
  bool gap = false;
  const auto add = [&](std::string_view letters) {
    if (gap && !out.empty()) out += ' ';
    gap = false;
    out += letters;
  };
  for (size_t i = 0; i < name.size(); ++i) {
    const auto c = static_cast<unsigned char>(name[i]);
    const auto next = static_cast<unsigned char>(i + 1 < name.size() ? name[i + 1] : 0);
    if (c >= 0xC3 && c <= 0xC5 && (next & 0xC0) == 0x80) {
      const uint32_t letter = (c & 0x1Fu) << 6 | (next & 0x3Fu);
      const char base = latin[letter - 0xC0];
      if (base == ' ')
        gap = true;
      else
        add(base == '*' ? other_letters(letter) : std::string_view(&base, 1));
      ++i;
    } else if (c >= 'A' && c <= 'Z') {
      const char lower = static_cast<char>(c | 32);
      add({&lower, 1});
    } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c >= 0x80) {
      add(name.substr(i, 1));
    } else if (c != '\'') {
      gap = true;
    }
  }
  return out;
}

std::string_view without_kind(std::string_view words) {
  const size_t first = words.find(' ');
  if (first != std::string_view::npos && among(before, words.substr(0, first)))
    return words.substr(first + 1);
  const size_t last = words.rfind(' ');
  if (last != std::string_view::npos && among(behind, words.substr(last + 1))) return words.substr(0, last);
  for (const std::string_view kind : joined)
    if (words.size() > kind.size() + 1 && words.ends_with(kind))
      return words.substr(0, words.size() - kind.size());
  return words;
}

bool is_control(char c) {
  return static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
}

}  // namespace

std::string folded_street(std::string_view name) {
  const std::string words = base_letters(name);
  std::string out(without_kind(words));
  out.erase(std::remove(out.begin(), out.end(), ' '), out.end());
  return out;
}

uint32_t StreetNames::number(std::string_view name) {
  name = plan::trimmed(name);
  if (name.empty()) return none;
  if (const auto found = written_.find(name); found != written_.end()) return found->second;
  uint32_t number = none;
  if (std::string folded = folded_street(name); !folded.empty())
    number = folded_.try_emplace(std::move(folded), size()).first->second;
  written_.emplace(name, number);
  return number;
}

std::string id_text(MapId id) {
  static constexpr std::array words = {"node ", "way ", "relation ", "feature "};
  return words[static_cast<size_t>(id.kind)] + std::to_string(id.number);
}

std::string premises_name(std::string_view street, std::string_view number, MapId id) {
  street = plan::trimmed(street), number = plan::trimmed(number);
  if (number.empty()) return id_text(id);
  std::string name;
  name.reserve(street.size() + 1 + number.size());
  name += street;
  if (!street.empty()) name += ' ';
  name += number;
  name.erase(std::remove_if(name.begin(), name.end(), is_control), name.end());
  if (name.size() > longest_name) {
    name.resize(longest_name);
    name.resize(plan::utf8_bytes(name));
  }
  return plan::trimmed(name).empty() ? id_text(id) : name;
}

namespace {

using Hashed = std::vector<std::pair<uint64_t, uint32_t>>;

// Hashes of all names with their places, sorted; whoever shares a hash may share a name.
Hashed hashed(std::span<const DraftPremises> premises, const plan::Run& run) {
  Hashed all(premises.size());
  plan::for_each_chunk(run, premises.size(), 4096, [&](size_t first, size_t last) {
    for (size_t i = first; i < last; ++i) all[i] = {plan::hash64(premises[i].name), static_cast<uint32_t>(i)};
  });
  std::sort(all.begin(), all.end());
  return all;
}

// Those whose name another one may have too, in order of their centres.
std::vector<uint32_t> doubles(std::span<const DraftPremises> premises, const Hashed& names) {
  std::vector<uint32_t> all;
  const auto same = [&](size_t i, size_t j) { return j < names.size() && names[i].first == names[j].first; };
  for (size_t i = 0; i < names.size(); ++i)
    if (same(i, i + 1) || (i > 0 && same(i, i - 1))) all.push_back(names[i].second);
  std::sort(all.begin(), all.end(), [&](uint32_t a, uint32_t b) {
    return std::tie(premises[a].centre, a) < std::tie(premises[b].centre, b);
  });
  return all;
}

}  // namespace

void make_unique(std::span<DraftPremises> premises, const plan::Run& run) {
  const Hashed names = hashed(premises, run);
  std::unordered_map<std::string, uint32_t> copies;  // of each name so far
  const auto is_there = [&](const std::string& name) {
    const std::pair<uint64_t, uint32_t> first{plan::hash64(name), 0};
    const auto near = std::lower_bound(names.begin(), names.end(), first);
    return copies.contains(name) || (near != names.end() && near->first == first.first);
  };
  for (const uint32_t i : doubles(premises, names)) {
    std::string& name = premises[i].name;
    const auto first = copies.try_emplace(name, 1u);
    if (first.second) continue;
    uint32_t& count = first.first->second;
    std::string suffixed;
    do suffixed = name + " (" + std::to_string(++count) + ")";
    while (is_there(suffixed));
    name = std::move(suffixed);
    copies.emplace(name, 1u);
  }
}

}  // namespace withy
