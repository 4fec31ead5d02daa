// Street names as they are compared, and names of premises that occur once.
#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/run.h"
#include "estate/draft.h"

namespace withy {

// Without case, accents of Latin letters, punctuation, blanks and the word for what kind of street it is
// ("Rua", "Av.", "-straße", "-str.", "Street"): "Av. Três Corações" and "AVENIDA TRES CORACOES" agree,
// "Hauptweg" and "Hauptstr." do not. A name that is nothing but such a word stays. Empty where the name is
// blank.
std::string folded_street(std::string_view name);

// Numbers for folded names; each name as written is folded once.
class StreetNames {
 public:
  static constexpr uint32_t none = UINT32_MAX;
  uint32_t number(std::string_view name);  // none where blank
  uint32_t size() const { return static_cast<uint32_t>(folded_.size()); }

 private:
  struct Hash {
    using is_transparent = void;
    size_t operator()(std::string_view text) const { return std::hash<std::string_view>()(text); }
  };
  using Numbers = std::unordered_map<std::string, uint32_t, Hash, std::equal_to<>>;
  Numbers written_, folded_;
};

// "way 4031" or "feature 17".
std::string id_text(MapId id);
// Street and number, trimmed, else the id's text where there is no number.
std::string premises_name(std::string_view street, std::string_view number, MapId id);
// Adds " (2)", " (3)" … to names that are there already, in order of the premises' centres.
void make_unique(std::span<DraftPremises> premises, const plan::Run& run = {});

}  // namespace withy
