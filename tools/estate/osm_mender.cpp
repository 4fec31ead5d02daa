// XmlMender of osm_bytes.h.
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "estate/osm_bytes.h"

namespace withy {
namespace {

constexpr size_t most_tag_bytes = size_t{1} << 20;
constexpr uint64_t most_object_bytes = uint64_t{64} << 20;
constexpr std::string_view no_place = "200";

// One past the token that begins with '<' at `start`; npos where the text ends before it does.
size_t token_end(std::string_view text, size_t start) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 3> others{
      {{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}}};
  const std::string_view token = text.substr(start);
  for (const auto& [opening, closing] : others) {
    if (opening.starts_with(token.substr(0, opening.size())) && token.size() < opening.size())
      return std::string_view::npos;
    if (!token.starts_with(opening)) continue;
    const size_t end = text.find(closing, start + opening.size());
    return end == std::string_view::npos ? end : end + closing.size();
  }
  size_t at = start;
  while ((at = text.find_first_of("'\">", at)) != std::string_view::npos) {
    if (text[at] == '>') return at + 1;
    at = text.find(text[at], at + 1);
    if (at == std::string_view::npos) break;
    ++at;
  }
  return std::string_view::npos;
}

bool is_coordinate(std::string_view name) {
  return name == "lat" || name == "lon" || name == "minlat" || name == "minlon" || name == "maxlat" ||
         name == "maxlon";
}

// `value` as the parser behind reads it without fault.
std::string safe_coordinate(std::string_view value) {
  double degrees = 0;
  const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), degrees);
  if (error != std::errc{} || end != value.data() + value.size() || !(std::abs(degrees) <= 200))
    return std::string(no_place);
  return plan::fixed(degrees, 7);
}

bool all_digits(std::string_view text, size_t most) {
  return !text.empty() && text.size() <= most &&
         text.find_first_not_of("0123456789") == std::string_view::npos;
}

// As nearly all are: "-12.3456789".
bool plain_coordinate(std::string_view value) {
  if (value.starts_with('-')) value.remove_prefix(1);
  const size_t point = value.find('.');
  if (point == std::string_view::npos) return all_digits(value, 3);
  return all_digits(value.substr(0, point), 3) && all_digits(value.substr(point + 1), 9);
}

void copy_mended(std::string_view tag, std::string& out) {
  size_t copied = 0;
  for (size_t at = tag.find('='); at != std::string_view::npos; at = tag.find('=', at)) {
    const std::string_view before = plan::trimmed(tag.substr(0, at));
    const std::string_view name = before.substr(before.find_last_of(" \t\r\n") + 1);
    const size_t open = tag.find_first_of("'\"", at);
    const size_t close = open == std::string_view::npos ? open : tag.find(tag[open], open + 1);
    if (close == std::string_view::npos) break;
    const std::string_view value = tag.substr(open + 1, close - open - 1);
    if (is_coordinate(name) && !plain_coordinate(value)) {
      out += tag.substr(copied, open + 1 - copied);
      out += safe_coordinate(value);
      copied = close;
    }
    at = close;
  }
  out += tag.substr(copied);
}

}  // namespace

void XmlMender::pass(std::string_view token, std::string& out) {
  const bool node = token.starts_with("<node");
  if (node || token.starts_with("<way") || token.starts_with("<relation")) object_bytes_ = 0;
  object_bytes_ += token.size();
  if (object_bytes_ > most_object_bytes) throw std::runtime_error("an object of more than 64 MiB");
  if (node || token.starts_with("<nd") || token.starts_with("<bound")) {
    copy_mended(token, out);
  } else {
    out += token;
  }
}

std::string XmlMender::mended(std::string_view more) {
  std::string text = std::move(carry_);
  text += more;
  carry_.clear();
  const std::string_view view = text;
  std::string out;
  out.reserve(text.size());
  size_t at = 0;
  while (at < view.size()) {
    const size_t start = view.find('<', at);
    out += view.substr(at, start == std::string_view::npos ? start : start - at);
    if (start == std::string_view::npos) break;
    const size_t end = token_end(view, start);
    if (end == std::string_view::npos) {
      carry_ = view.substr(start);
      if (carry_.size() > most_tag_bytes + more.size()) throw std::runtime_error("a tag of more than 1 MiB");
      break;
    }
    if (end - start > most_tag_bytes) throw std::runtime_error("a tag of more than 1 MiB");
    pass(view.substr(start, end - start), out);
    at = end;
  }
  return out;
}

}  // namespace withy
