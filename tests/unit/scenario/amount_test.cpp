#include "scenario/amount.h"

#include <doctest/doctest.h>

using namespace plan;

TEST_CASE("amounts are a number, one space and a unit") {
  CHECK(*read_amount(Kind::length, "12.5 m") == 12.5);
  CHECK(metres(*read_amount(Kind::length, "3.5 mm")) == millimetres(3.5));
  CHECK(*read_amount(Kind::length, "2 km") == 2000);
  CHECK(*read_amount(Kind::pressure, "10 bar") == 10);
  CHECK(*read_amount(Kind::attenuation, "0.36 dB/km") == 0.36);
  CHECK(*read_amount(Kind::loss, "28 dB") == 28);
  CHECK(*read_amount(Kind::level, "+1.5 dBm") == 1.5);
  CHECK(*read_amount(Kind::level, "-27 dBm") == -27);
  CHECK(*read_amount(Kind::wavelength, "1490 nm") == 1490);
  CHECK(*read_amount(Kind::force, "0.5 N") == 0.5);
  CHECK(*read_amount(Kind::linear_mass, "1.1 g/m") == 1.1);
  CHECK(*read_amount(Kind::share, "15 %") == doctest::Approx(0.15).epsilon(1e-15));
  CHECK(*read_amount(Kind::temperature, "-5 C") == -5);
  CHECK(*read_amount(Kind::angle, "90 deg") == doctest::Approx(1.5707963267948966).epsilon(1e-15));
  CHECK(*read_amount(Kind::speed, "30 m/min") == 30);
  CHECK(*read_amount(Kind::work, "25 min") == 25);
  CHECK(*read_amount(Kind::work, "2 h") == 120);
}

TEST_CASE("what is not quite an amount is none") {
  for (const char* text :
       {"12.5", "12.5m", "12.5  m", "m", " 12.5 m", "12.5 m ", "12,5 m", "012 m", "1e400 m", ".5 m", "5. m",
        "nan m", "inf m", "0x10 m", "12.5 ft", "1_000 m", "--1 m", "1e m", ""})
    CHECK_MESSAGE(!read_amount(Kind::length, text), text);
  CHECK_FALSE(read_amount(Kind::loss, "3 dBm"));
  CHECK_FALSE(read_amount(Kind::level, "3 dB"));
  CHECK_FALSE(read_amount(Kind::length, "1e306 km"));
}

TEST_CASE("plain numbers have one way to be written") {
  CHECK(*read_number("-0.5") == -0.5);
  CHECK(*read_number("1e3") == 1000);
  CHECK(*read_whole("128") == 128);
  for (const char* text : {"007", "yes", "1:30", "0o17", "1e400", "5m", ".nan", ".inf", "", "-"})
    CHECK_MESSAGE(!read_number(text), text);
  for (const char* text : {"1.0", "1e3", "99999999999999999999"}) CHECK_MESSAGE(!read_whole(text), text);
}

TEST_CASE("prices, ratios, outputs") {
  CHECK(read_price("0.155 EUR/m")->price == UnitPrice{1550});
  CHECK(read_price("0.155 EUR/m")->per == PriceUnit::metre);
  CHECK(read_price("800 EUR each")->per == PriceUnit::piece);
  CHECK(read_price("45 SEK/h")->currency == "SEK");
  CHECK_FALSE(read_price("800 EUR"));
  CHECK_FALSE(read_price("800 eur each"));
  CHECK_FALSE(read_price("EUR 800 each"));
  CHECK(*read_ratio("1:32") == 32);
  CHECK_FALSE(read_ratio("2:32"));
  CHECK_FALSE(read_ratio("1:032"));
  CHECK_FALSE(read_ratio("1:0"));
  CHECK(read_output("100 m")->amount == 100);
  CHECK(read_output("12 premises")->unit == "premises");
  CHECK_FALSE(read_output("12 drops"));
}

TEST_CASE("amounts print as they are written") {
  CHECK(amount_text(Kind::length, 0.0035) == "3.5 mm");
  CHECK(amount_text(Kind::length, 120) == "120 m");
  CHECK(amount_text(Kind::share, 0.15) == "15 %");
  CHECK(expected(Kind::length) == "a length with its unit, such as 12.5 m");
}
