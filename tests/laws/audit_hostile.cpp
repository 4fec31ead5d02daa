// The plan checker is total: whatever stands in a plan folder, it gives faults and never breaks.
#include <random>

#include "laws/planted.h"

namespace plan {
namespace {

// Bytes that mean something to one of the readers.
constexpr std::string_view bytes = "0123456789-.,\" \r\n\t:[]{}xé\0";

std::string damaged(std::string text, std::mt19937_64& random) {
  const auto below = [&](size_t n) { return static_cast<size_t>(random() % std::max<size_t>(n, 1)); };
  switch (random() % 6) {
    case 0:
      return text.substr(0, below(text.size()));
    case 1:
      return text.erase(below(text.size()), below(200));
    case 2:
      return text.insert(below(text.size()), text.substr(below(text.size()), below(400)));
    case 3:
      for (int k = 0; k < 20; ++k) text[below(text.size())] = bytes[below(bytes.size())];
      return text;
    case 4:  // huge and negative numbers where ids stand
      for (int k = 0; k < 20; ++k)
        if (const size_t at = text.find_first_of("123456789", below(text.size())); at != std::string::npos)
          text.replace(at, 1, random() % 2 == 0 ? "4294967295" : "-7");
      return text;
    default:
      return "";
  }
}

TEST_CASE("damaged tables give faults and nothing worse") {
  std::mt19937_64 random(20270301);
  const FolderTexts& sound = sound_hamlet();
  for (const auto& [name, text] : sound) {
    const std::string file = name;
    if (file != "summary.json" && !file.ends_with(".csv")) continue;
    CAPTURE(file);
    for (int k = 0; k < 10; ++k) {
      FolderTexts folder = sound;
      folder[file] = damaged(text, random);
      for (const AuditFault& fault : audited(folder))
        CHECK_FALSE((fault.rule.empty() || fault.message.empty()));
    }
    FolderTexts folder = sound;
    folder[file].clear();
    CHECK_FALSE(audited(folder).empty());
  }
}

TEST_CASE("a damaged scenario is a fault") {
  std::mt19937_64 random(7);
  for (int k = 0; k < 12; ++k) {
    FolderTexts folder = sound_hamlet();
    std::string& text = folder["scenario.yaml"];
    text = damaged(text, random);
    for (const AuditFault& fault : audited(folder))
      CHECK_FALSE((fault.rule.empty() || fault.message.empty()));
  }
  FolderTexts folder = sound_hamlet();
  folder["scenario.yaml"].resize(folder["scenario.yaml"].size() / 2);
  CHECK(tells(audited(folder), "scenario-unreadable"));
}

TEST_CASE("all tables damaged at once") {
  std::mt19937_64 random(11);
  for (int k = 0; k < 40; ++k) {
    FolderTexts folder = sound_hamlet();
    for (auto& [file, text] : folder)
      if (file.ends_with(".csv") && random() % 2 == 0) text = damaged(text, random);
    CHECK_FALSE(audited(folder).empty());
  }
}

// Rules of all kinds, on small estates: what the stages make, the checker accepts.
TEST_CASE("the plan checker is silent on plans of many rules") {
  const std::string_view rules[] = {
      "",
      "fibre:\n  patched cabinet: yes\n  reserve all ports: no\n  take-up: 60 %\n  port fill: 80 %\n",
      "fibre:\n  fibres per dwelling: 2\n  splices per tray: 6\nducts:\n  buried joints: 0\n",
      "layout:\n  cabinet: \"wall box, 12 entries\"\nducts:\n  bundles per span: 1\n  taper below: 80 %\n",
      "blowing:\n  unit friction: 0.5\n  supply pressure: 16 bar\noptics:\n  worst case attenuation: yes\n",
      "ducts:\n  spare share: 40 %\noptics:\n  margin: 3 dB\n",
      "prices:\n  splice: {price: 45 EUR/h}\ncalendar:\n  shift: 450 min\n  holidays: [2027-03-05]\n",
  };
  uint64_t seed = 1;
  for (const std::string_view more : rules) {
    CAPTURE(std::string(more));
    CHECK(told(audited(written(planned(invented(90, seed++, more))))) == "");
  }
}

}  // namespace
}  // namespace plan
