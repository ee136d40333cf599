#include "plant/inputs.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "plant/testing.hpp"

using wm::plant::Inputs;
using wm::plant::testing::not_a_number;

namespace {
const double infinity = std::numeric_limits<double>::infinity();
}  // namespace

TEST_CASE("a complaint says what, where and what to do") {
    Inputs inputs{"wind pressure"};
    inputs.within("gust speed", 180.0, 0.0, 100.0, "m/s");
    REQUIRE(inputs.complaint());
    CHECK(told(*inputs.complaint()) ==
          "wind pressure: The gust speed is 180 m/s, outside 0 m/s to 100 m/s.\n"
          "Check the reading and its unit; outside this range the equation is not valid.");
}

TEST_CASE("both ends of a range are inside it") {
    CHECK(!Inputs{"x"}
               .within("tilt", 0.0, 0.0, 90.0, "°")
               .within("tilt", 90.0, 0.0, 90.0, "°")
               .complaint());
    CHECK(Inputs{"x"}.within("tilt", 90.001, 0.0, 90.0, "°").complaint());
}

TEST_CASE("what is no number is refused by every rule") {
    for (const double value : {not_a_number, infinity, -infinity}) {
        CAPTURE(value);
        CHECK(Inputs{"x"}.finite("a", value).complaint());
        CHECK(Inputs{"x"}.positive("a", value, "").complaint());
        CHECK(Inputs{"x"}.not_negative("a", value, "").complaint());
        CHECK(Inputs{"x"}.within("a", value, -1e308, 1e308, "").complaint());
    }
    CHECK(Inputs{"x"}.finite("mass", not_a_number).complaint()->what ==
          "The mass is not a number.");
}

TEST_CASE("zero is allowed where only less than zero is wrong") {
    CHECK(!Inputs{"x"}.not_negative("snow", 0.0, "Pa").complaint());
    CHECK(Inputs{"x"}.positive("area", 0.0, "m²").complaint());
    CHECK(Inputs{"x"}.not_negative("snow", -1e-300, "Pa").complaint());
}

TEST_CASE("the first complaint stays") {
    Inputs inputs{"x"};
    inputs.holds(false, "First.", "Do.").positive("area", -1.0, "m²");
    CHECK(inputs.complaint()->what == "First.");
}
