// The page and the schema say what the reader knows. WITHY_ACCEPT=1 in the environment writes
// docs/scenario.md.
#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <sstream>

#include "scenario/draft.h"
#include "village.h"

using namespace plan;

namespace {

const char* page_path = WITHY_SOURCE "/docs/scenario.md";

std::string file_text(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

void each_mapping(const Mapping& m, std::vector<const Mapping*>& seen,
                  const std::function<void(const Mapping&)>& f) {
  if (std::find(seen.begin(), seen.end(), &m) != seen.end()) return;
  seen.push_back(&m);
  f(m);
  for (const Field& field : m.fields)
    if (field.mapping) each_mapping(*field.mapping, seen, f);
}

}  // namespace

TEST_CASE("docs/scenario.md is printed from the descriptors") {
  if (std::getenv("WITHY_ACCEPT")) std::ofstream(page_path, std::ios::binary) << language_page();
  CHECK_MESSAGE(file_text(page_path) == language_page(), "run with WITHY_ACCEPT=1 to write ", page_path);
}

TEST_CASE("every key stands once, is described, and fits the reader") {
  std::vector<const Mapping*> seen;
  each_mapping(scenario_words, seen, [](const Mapping& m) {
    CHECK(m.fields.size() <= 64);
    for (size_t i = 0; i < m.fields.size(); ++i) {
      CHECK_MESSAGE(!m.fields[i].doc.empty(), m.fields[i].key);
      for (size_t j = 0; j < i; ++j) CHECK(m.fields[i].key != m.fields[j].key);
      if (m.fields[i].kind == Kind::choice) CHECK(m.fields[i].words.size() > 1);
      if (m.fields[i].many == Many::named) CHECK((m.fields[i].mapping->name_into != nullptr));
    }
  });
  CHECK(seen.size() > 30);
}

TEST_CASE("every rule has a source") {
  for (const Mapping* m : {&layout_words, &duct_words, &fibre_words, &blowing_words, &optic_words})
    for (const Field& f : m->fields)
      if (f.kind != Kind::reference) CHECK_MESSAGE(!f.source.empty(), f.key);
}

TEST_CASE("the schema refuses further keys in every mapping") {
  const std::string schema = schema_json();
  size_t objects = 0, closed = 0;
  for (size_t at = 0; (at = schema.find("\"properties\": {", at)) != std::string::npos; ++at) ++objects;
  for (size_t at = 0; (at = schema.find("\"additionalProperties\": false", at)) != std::string::npos; ++at)
    ++closed;
  CHECK(objects > 30);
  CHECK(objects == closed);
}
