#include "plant/leak_rate.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

TEST_CASE(
    "1 kPa a minute in 10 L is 99 mL of air a minute and a six-thousandth millilitre of water") {
    // Arithmetic of the definition (numpy 1.24.2).
    const Drop drop{litres(10), PressureRate::from_si(-1000.0 / 60.0)};
    const auto water = liquid_leak(drop, Compressibility::from_si(6.29e-10));
    const auto air = gas_leak(drop);
    REQUIRE(water);
    REQUIRE(air);
    CHECK(is_within(water->si(), 1.04833333333e-10, 1e-7));
    CHECK(is_within(air->throughput.si(), 0.166666666667, 1e-7));
    CHECK(is_within(air->normal_flow.si() * 60e6, 98.7, 0.1));
}

TEST_CASE("a rising pressure is a leak inwards") {
    CHECK(gas_leak({litres(10), PressureRate::from_si(2)})->throughput.si() < 0.0);
}

TEST_CASE("no volume and no number are refused") {
    CHECK(!gas_leak({litres(0), PressureRate::from_si(-1)}));
    CHECK(!gas_leak({litres(10), PressureRate::from_si(not_a_number)}));
    CHECK(!liquid_leak({litres(10), PressureRate::from_si(-1)}, Compressibility::from_si(0)));
}
