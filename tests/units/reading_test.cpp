#include "units/reading.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

namespace wm::units {

TEST_CASE("comma and point mean the same, thousands separators mean nothing") {
    CHECK(read_number("23.5") == 23.5);
    CHECK(read_number("23,5") == 23.5);
    CHECK(read_number(" -0,25 ") == -0.25);
    CHECK(read_number("\xE2\x88\x92" "9") == -9.0);
    CHECK(read_number("+3") == 3.0);
    CHECK(read_number("1e-3") == 1e-3);
    for (const char* bad : {"", " ", "1.000,5", "1,000.5", "1 000", "12a", "nan", "inf", "0x10", "-", ".", "1e999", "--2", "1.2.3"}) {
        CAPTURE(bad);
        const auto number = read_number(bad);
        REQUIRE_FALSE(number);
        CHECK_FALSE(number.error().what_to_do.empty());
    }
}

TEST_CASE("a unit of the right dimension is converted by exact factors") {
    // Source: SI Brochure, 9th edition, table 8 (bar); 1 psi = 4.4482216152605 N / (0.0254 m)², NIST SP 811
    // (from memory).
    struct Row { const char* text; const char* unit; double value; };
    for (const Row row : {Row{"3.1 bar", "kPa", 310.0}, Row{"70 psi", "kPa", 482.6330105217853}, Row{"60 degC", "°C", 60.0},
                          Row{"140 °F", "°C", 60.0}, Row{"0.5 kN", "N", 500.0}, Row{"23.5 N m", "N·m", 23.5},
                          Row{"0,9 kPa", "kPa", 0.9}, Row{"12 mm", "m", 0.012}, Row{"2 MOhm", "MΩ", 2.0}}) {
        CAPTURE(row.text);
        const auto unit = unit_named(row.unit);
        REQUIRE(unit);
        const auto entered = read_amount(row.text, *unit, "here");
        REQUIRE(entered);
        CHECK(entered->amount().in(*unit) == doctest::Approx(row.value).epsilon(1e-12));
        CHECK(entered->text == row.text);
    }
}

TEST_CASE("a wrong dimension is refused in words") {
    const auto entered = read_amount("20 °C", *unit_named("kPa"), "check test-pressure");
    REQUIRE_FALSE(entered);
    CHECK(entered.error().what == "\"20 °C\" is a temperature, but a pressure is wanted here.");
    CHECK(entered.error().where == "check test-pressure");
    CHECK_FALSE(read_amount("20 K", *unit_named("°C"), "here"));
    CHECK_FALSE(read_amount("20 kPa(abs)", *unit_named("kPa(g)"), "here"));
    const auto unknown = read_amount("20 furlong", *unit_named("m"), "here");
    REQUIRE_FALSE(unknown);
    CHECK(unknown.error().what == "\"furlong\" is not a unit this tool knows.");
}

TEST_CASE("an amount that no number can hold in the unit it is kept in is refused") {
    const auto far = read_any_amount("1e308 a", "a check");
    REQUIRE_FALSE(far);
    CHECK(far.error().what == "\"1e308 a\" is too large a number.");
    CHECK_FALSE(read_amount("1e308 MPa", *unit_named("kPa"), "a check"));
    CHECK(read_amount("1e300 kPa", *unit_named("kPa"), "a check"));
}

TEST_CASE("what is printed is read back to the same number") {
    std::mt19937 random{7};
    std::uniform_real_distribution<double> exponent{-3.0, 6.0};
    for (int i = 0; i < 20000; ++i) {
        const double value = std::pow(10.0, exponent(random)) * (i % 2 ? -1.0 : 1.0);
        for (const auto mark : {DecimalMark::Point, DecimalMark::Comma}) {
            const auto back = read_number(print_short(value, 15, mark));
            REQUIRE(back);
            CHECK(*back == doctest::Approx(value).epsilon(1e-13));
        }
    }
}

TEST_CASE("nothing is printed as minus zero") {
    CHECK(print_number(-0.001, 2) == "0.00");
    CHECK(print_number(-0.4, 0) == "0");
    CHECK(print_number(0.0, 1) == "0.0");
    CHECK(print_short(-0.0) == "0");
    CHECK(print_amount(34.42, 1, *unit_named("°"), DecimalMark::Comma) == "34,4°");
    CHECK(print_amount(20.0, 1, *unit_named("N·m")) == "20.0 N·m");
}

}  // namespace wm::units
