// JSON Schema 2020-12 of the language, printed from the descriptors. A file may be one layer of several,
// so keys are required only in rows of lists, which are never merged.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/text.h"
#include "scenario/draft.h"

namespace plan {

namespace {

std::string json(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string json_list(std::span<const std::string_view> words) {
  std::string out = "[";
  for (const std::string_view w : words) out += (out.size() > 1 ? ", " : "") + json(w);
  return out + "]";
}

constexpr std::string_view any_text = R"("type": ["string", "number", "boolean"])";

// Definitions are named after their mapping, without the article.
std::string definition(const Mapping& m) {
  std::string_view name = m.name;
  for (const std::string_view article : {"a ", "an ", "the "})
    if (name.substr(0, article.size()) == article) name.remove_prefix(article.size());
  return std::string(name);
}

std::string bounds(const Field& f) {
  std::string out;
  if (std::isfinite(f.least)) out += fmt::format(", \"minimum\": {}", shortest(f.least));
  if (std::isfinite(f.most)) out += fmt::format(", \"maximum\": {}", shortest(f.most));
  return out;
}

std::string one_value(const Field& f) {
  switch (f.kind) {
    case Kind::text:
      return std::string(any_text) + (f.required ? ", \"minLength\": 1" : "");
    case Kind::reference:
      return std::string(any_text);
    case Kind::yes_no:
      return R"("enum": ["yes", "no"])";
    case Kind::choice:
      return "\"enum\": " + json_list(f.words);
    case Kind::whole:
      return "\"type\": \"integer\"" + bounds(f);
    case Kind::number:
      return "\"type\": \"number\"" + bounds(f);
    case Kind::position:
      return R"("type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2)";
    case Kind::line:
      return R"("type": "array", "minItems": 2, "items": {"type": "array", "items": {"type": "number"}, )"
             R"("minItems": 2, "maxItems": 3})";
    case Kind::mapping:
      return fmt::format("\"$ref\": {}", json("#/$defs/" + definition(*f.mapping)));
    case Kind::fragment:
      return R"("$ref": "#")";
    default:
      return fmt::format("\"type\": \"string\", \"pattern\": {}", json(pattern(f.kind)));
  }
}

std::string value_schema(const Field& f) {
  std::string one = one_value(f);
  switch (f.many) {
    case Many::list:
      return fmt::format("\"type\": \"array\", \"items\": {{{}}}", one);
    case Many::named:
      return fmt::format(
          "\"type\": \"object\", \"propertyNames\": {{\"minLength\": 1}}, "
          "\"additionalProperties\": {{{}}}",
          one);
    case Many::rows:
      return fmt::format("\"anyOf\": [{{\"type\": \"string\"}}, {{\"type\": \"array\", \"items\": {{{}}}}}]",
                         one);
    case Many::one:
      break;
  }
  return one;
}

std::string properties(const Mapping& m, std::string_view margin) {
  std::string out = fmt::format("{}\"properties\": {{\n", margin);
  for (const Field& f : m.fields) {
    out +=
        fmt::format("{}  {}: {{\"description\": {}, {}}}", margin, json(f.key), json(f.doc), value_schema(f));
    out += &f == &m.fields.back() ? "\n" : ",\n";
  }
  return out + fmt::format("{}}},\n{}\"additionalProperties\": false", margin, margin);
}

struct Definition {
  const Mapping* mapping;
  bool row;  // only ever an element of a list
};

void collect(const Mapping& m, std::vector<Definition>& found) {
  for (const Field& f : m.fields) {
    if (!f.mapping) continue;
    const bool row = f.many == Many::list || f.many == Many::rows;
    const auto at =
        std::find_if(found.begin(), found.end(), [&](const Definition& d) { return d.mapping == f.mapping; });
    if (at != found.end()) {
      at->row = at->row && row;
      continue;
    }
    for (const Definition& d : found) PLAN_CHECK(definition(*d.mapping) != definition(*f.mapping));
    found.push_back({f.mapping, row});
    collect(*f.mapping, found);
  }
}

std::string required(const Mapping& m) {
  std::vector<std::string_view> keys;
  for (const Field& f : m.fields)
    if (f.required) keys.push_back(f.key);
  return keys.empty() ? std::string() : fmt::format(",\n      \"required\": {}", json_list(keys));
}

}  // namespace

std::string schema_json() {
  std::string out =
      "{\n  \"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n  \"title\": \"Withy "
      "scenario\",\n"
      "  \"description\": " +
      json(scenario_words.doc) + ",\n  \"type\": \"object\",\n";
  out += properties(scenario_words, "  ") + ",\n  \"$defs\": {\n";
  std::vector<Definition> found;
  collect(scenario_words, found);
  for (size_t i = 0; i < found.size(); ++i) {
    const Mapping& m = *found[i].mapping;
    out += fmt::format("    {}: {{\n      \"description\": {},\n      \"type\": \"object\",\n",
                       json(definition(m)), json(m.doc));
    out += properties(m, "      ") + (found[i].row ? required(m) : "");
    out += i + 1 < found.size() ? "\n    },\n" : "\n    }\n";
  }
  return out + "  }\n}\n";
}

}  // namespace plan
