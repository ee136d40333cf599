#include "plant/legionella.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
Temperature at(double celsius) {
    return Temperature::celsius(celsius);
}
}  // namespace

TEST_CASE("decimal reduction at and between the published temperatures") {
    // Source: Sanden et al. 1989, abstract; 57 °C is arithmetic on it.
    for (const auto& [celsius, minute] : {std::pair{45.0, 2500.0},
                                          {50.0, 380.0},
                                          {55.0, 13.93},
                                          {60.0, 0.74},
                                          {66.0, 0.45},
                                          {57.0, 4.3058942}})
        CHECK(is_within(decimal_reduction_time(at(celsius))->si() / 60.0, minute, 1e-3));
    CHECK(is_within(hold_time(at(57), 5)->si() / 60.0, 21.529471, 1e-3));
}

TEST_CASE("hotter is always quicker") {
    for (double t = 45.0; t < 66.0; t += 0.5)
        CHECK(*decimal_reduction_time(at(t + 0.5)) < *decimal_reduction_time(at(t)));
}

TEST_CASE("below 50 °C nothing counts, above 66 °C no more than at 66 °C") {
    const std::vector<HeldStep> steps{
        {at(49), hours(10)}, {at(60), minutes(0.74)}, {at(80), minutes(0.45)}};
    CHECK(is_within(*decades_reached(steps), 2.0, 1e-6));
}

TEST_CASE("temperatures outside the table and empty histories are refused") {
    CHECK(!decimal_reduction_time(at(44)));
    CHECK(!decimal_reduction_time(at(67)));
    CHECK(!decimal_reduction_time(at(not_a_number)));
    CHECK(!hold_time(at(60), 0));
    CHECK(!hold_time(at(60), not_a_number));
    CHECK(!decades_reached({}));
    const std::vector<HeldStep> broken{{at(60), minutes(not_a_number)}};
    CHECK(!decades_reached(broken));
}
