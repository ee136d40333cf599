#include "desk/slips.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

namespace {
TypedNumber typed(std::string_view text, double value, std::optional<double> low, std::optional<double> high) {
    return {.text = text, .value = value, .low = low, .high = high, .plausible_low = 0.0, .plausible_high = 1000.0};
}
}  // namespace

TEST_CASE("a value ten times too large or too small is asked about") {
    CHECK(slips_in(typed("200", 200, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).size() == 1);
    CHECK(slips_in(typed("2", 2, 18, 22)).front() ==
          "Look again: 20 would fit, 2 does not. Is the decimal point in its place?");
}

TEST_CASE("a digit that came twice is asked about") {
    CHECK(slips_in(typed("4480", 4480, 430, 485)).front() ==
          "Look again: did a key stick? 480 would fit, 4480 does not.");
}

TEST_CASE("a value that fits, and a plain wrong one, pass in silence") {
    CHECK(slips_in(typed("20", 20, 18, 22)).empty());
    CHECK(slips_in(typed("25", 25, 18, 22)).empty());
    CHECK(slips_in(typed("0", 0, 18, 22)).empty());
    CHECK(slips_in(typed("22", 22, 18, 22)).empty());
}

TEST_CASE("with one limit, only a plausible neighbour is named") {
    CHECK(slips_in(typed("0.4", 0.4, std::nullopt, 0.1)).size() == 1);
    auto small = typed("0.4", 0.4, std::nullopt, 0.1);
    small.plausible_low = 0.05;
    CHECK(slips_in(small).empty());
}

}  // namespace wm::desk
