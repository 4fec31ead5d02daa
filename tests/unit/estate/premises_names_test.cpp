// Street and number as text: case, accents, kinds of street, repeated and missing numbers.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "estate/names.h"

using namespace withy;

TEST_CASE("street names are compared without case, accents, blanks and the kind of street") {
  CHECK(folded_street("Av. Três Corações") == "trescoracoes");
  CHECK(folded_street("AVENIDA TRES CORACOES") == "trescoracoes");
  CHECK(folded_street("  rua  Três-Corações ") == "trescoracoes");
  CHECK(folded_street("Hauptstraße") == "haupt");
  CHECK(folded_street("HAUPTSTRASSE") == "haupt");
  CHECK(folded_street("Hauptstr.") == "haupt");
  CHECK(folded_street("Haupt Straße") == "haupt");
  CHECK(folded_street("Mill Street") == folded_street("Mill St."));
  CHECK(folded_street("Hauptweg") == "hauptweg");
  CHECK(folded_street("Ærø Ångström Œuvre Đuro Łódź") == "aeroangstromoeuvredurolodz");
  CHECK(folded_street("O'Brien") == "obrien");
}

TEST_CASE("a name that is only a kind of street stays, and a blank one is none") {
  CHECK(folded_street("Straße") == "strasse");
  CHECK(folded_street("Rua") == "rua");
  CHECK(folded_street("Rua R") == "r");
  CHECK(folded_street("   ").empty());
  StreetNames names;
  CHECK(names.number("   ") == StreetNames::none);
  CHECK(names.number("...") == StreetNames::none);
  CHECK(names.number("Rua A") == 0);
  CHECK(names.number("rua a ") == 0);
  CHECK(names.number("Rua B") == 1);
  CHECK(names.size() == 2);
}

TEST_CASE("bytes that are no UTF-8 fold without harm") {
  CHECK(folded_street("\xC3") == "\xC3");
  CHECK(folded_street("a\xFF\xC3z") == "a\xFF\xC3z");
}

TEST_CASE("a number is text and kept as it is") {
  const MapId id{0, MapKind::way, 4031};
  CHECK(premises_name("Mill Lane", " 9a ", id) == "Mill Lane 9a");
  CHECK(premises_name("Mill Lane", "25/1", id) == "Mill Lane 25/1");
  CHECK(premises_name("Mill Lane", "42,44,46,48", id) == "Mill Lane 42,44,46,48");
  CHECK(premises_name("Mill Lane", "0", id) == "Mill Lane 0");
  CHECK(premises_name(" ", "7", id) == "7");
  CHECK(premises_name("Mill Lane", "  ", id) == "way 4031");
  CHECK(premises_name("", "", {0, MapKind::node, 7'130'313'737}) == "node 7130313737");
  CHECK(premises_name("Mill\nLane", "1\t", id) == "MillLane 1");
  CHECK(premises_name(std::string(500, 'a'), "1", id).size() == 180);
  std::string letters;
  for (int i = 0; i < 100; ++i) letters += "é";  // a letter of two bytes is not cut in half
  CHECK(premises_name("x" + letters, "1", id).size() == 179);
}

TEST_CASE("names occur once, numbered by place and not by order in the source") {
  std::vector<DraftPremises> premises(4);
  premises[0].name = "Mill Lane 0", premises[0].centre = {5000, 0};
  premises[1].name = "Mill Lane 0", premises[1].centre = {1000, 0};
  premises[2].name = "Mill Lane 0 (2)", premises[2].centre = {2000, 0};
  premises[3].name = "Mill Lane 0", premises[3].centre = {9000, 0};
  make_unique(premises);
  CHECK(premises[1].name == "Mill Lane 0");
  CHECK(premises[2].name == "Mill Lane 0 (2)");
  CHECK(premises[0].name == "Mill Lane 0 (3)");
  CHECK(premises[3].name == "Mill Lane 0 (4)");
}
