#include "desk/slips.hpp"

#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <string_view>

#include "units/reading.hpp"

namespace wm::desk {

namespace {
TypedNumber typed(std::string_view text, double value, std::optional<double> low, std::optional<double> high) {
    return {.text = text, .value = value, .low = low, .high = high, .plausible_low = 0.0, .plausible_high = 1000.0,
            .usual = std::nullopt, .decimals = std::nullopt};
}
}  // namespace

TEST_CASE("a value ten times too large or too small is asked about") {
    CHECK(slips_in(typed("200", 200, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).front() ==
          "Look again: 20 would fit, 2 does not. Is the decimal point in its place?");
    // What is left of 20 without its first key.
    CHECK(slips_in(typed("0", 0, 18, 22)).size() == 1);
}

TEST_CASE("a digit that came twice is asked about") {
    CHECK(slips_in(typed("4480", 4480, 430, 485)).front() ==
          "Look again: did a key stick? 480 would fit, 4480 does not.");
}

TEST_CASE("a value that fits, and a plain wrong one, pass in silence") {
    CHECK(slips_in(typed("20", 20, 18, 22)).empty());
    CHECK(slips_in(typed("25", 25, 18, 22)).empty());
    CHECK(slips_in(typed("22", 22, 18, 22)).empty());
}

TEST_CASE("with one limit, only a plausible neighbour is named") {
    CHECK(slips_in(typed("0.4", 0.4, std::nullopt, 0.1)).size() == 1);
    auto small = typed("0.4", 0.4, std::nullopt, 0.1);
    small.plausible_low = 0.05;
    CHECK(slips_in(small).empty());
}

TEST_CASE("a mark with three digits behind it may part the thousands") {
    for (const std::string text : {"4,600", "4.600", "12,500 kPa", "480,000"}) CHECK(may_part_thousands(text));
    for (const std::string text : {"4,6", "4.60", "0.125", "4600", "4,6000", "1234,500", ",600", "-4,600"})
        CHECK_FALSE(may_part_thousands(text));
}

namespace {
/// One limit only, and what is usual there.
TypedNumber usually(std::string_view text, std::optional<double> low, std::optional<double> high, double usual, int decimals) {
    auto number = typed(text, *units::read_number(text), low, high);
    number.usual = usual;
    number.decimals = decimals;
    return number;
}
}  // namespace

TEST_CASE("within one limit a lost, doubled or added digit is seen by what is usual") {
    for (const std::string slip : {"8", "2", "280", "228", "288"}) {
        CAPTURE(slip);
        CHECK(slips_in(usually(slip, std::nullopt, 300, 28, 0)).size() == 1);
    }
    CHECK(slips_in(usually("280", std::nullopt, 300, 28, 0)).front() ==
          "Look again: some 28 would be usual here, 280 is not. Was a digit or the decimal point lost or added?");
    for (const std::string fine : {"28", "18", "41", "60"}) {
        CAPTURE(fine);
        CHECK(slips_in(usually(fine, std::nullopt, 300, 28, 0)).empty());
    }
    // A gap of 3 mm fails; with its key doubled it must not pass.
    CHECK(slips_in(usually("33", 5, std::nullopt, 8, 0)).size() == 1);
    CHECK(slips_in(usually("12", 5, std::nullopt, 8, 0)).empty());
}

TEST_CASE("a neighbour that the instrument cannot show is not named") {
    CHECK(slips_in(usually("14.8", std::nullopt, 10.6, 6, 1)).empty());
    CHECK(slips_in(usually("60", std::nullopt, 10.6, 6, 1)).size() == 1);
}

TEST_CASE("what nobody writes is asked about") {
    CHECK(slips_in(usually("005", std::nullopt, 10, 5, 0)).front() == "Look again: is 005 written in full? A key may have been missed.");
    for (const std::string odd : {"0.", ".0", "0", "0.0", "0.005", "05", ".05"}) {
        CAPTURE(odd);
        CHECK(slips_in(usually(odd, std::nullopt, 0.1, 0.05, 2)).size() == 1);
    }
    for (const std::string fine : {"0.05", "0,05", "0.00", "0.1", "0.045"}) {
        CAPTURE(fine);
        CHECK(slips_in(usually(fine, std::nullopt, 0.1, 0.05, 2)).empty());
    }
}

TEST_CASE("below zero a lost digit and a touched sign are seen, around zero each side is as usual") {
    // A freezing point.
    for (const std::string slip : {"-2", "-220", "22", "-6", "0.22"}) {
        CAPTURE(slip);
        CHECK_FALSE(slips_in(typed(slip, *units::read_number(slip), -35, -18)).empty());
    }
    for (const std::string fine : {"-22", "-36", "-17"}) CHECK(slips_in(typed(fine, *units::read_number(fine), -35, -18)).empty());
    // Two thermometers in one cup.
    for (const std::string fine : {"0.0", "0", "-0.1", "0.8", "-1.2", "2"}) {
        CAPTURE(fine);
        CHECK(slips_in(usually(fine, -2, 2, 0.8, 1)).empty());
    }
    for (const std::string slip : {"8", "-8", "0.08", "88"}) {
        CAPTURE(slip);
        CHECK(slips_in(usually(slip, -2, 2, 0.8, 1)).size() == 1);
    }
}

TEST_CASE("where nothing may be there, anything is asked about") {
    CHECK(slips_in(typed("230", 230, 0, 0)).front() == "Look again: 0 is demanded, and 230 was typed.");
    CHECK(slips_in(typed("0", 0, 0, 0)).empty());
}

}  // namespace wm::desk
