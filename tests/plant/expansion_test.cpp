#include "plant/expansion.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {

Heating heating(double litre, double from, double to) {
    return {litres(litre), Temperature::celsius(from), Temperature::celsius(to)};
}

GaugePressure bar(double value) {
    return GaugePressure::kilopascals(100.0 * value);
}

LoopWithVessel loop() {
    return {heating(22, 10, 110), bar(0.3), bar(3), litres(0)};
}

}  // namespace

TEST_CASE("150 L from 15 °C to 60 °C push out 2.42 L") {
    // Source: density from python3-iapws 1.5.2 (IF97); the other formulation differs by 0.1 %.
    const auto expansion = expansion_volume(heating(150, 15, 60));
    REQUIRE(expansion);
    CHECK(is_within(expansion->volume.si() * 1e3, 2.424273, 0.3));
    CHECK(is_within(expansion->percent, 1.616182, 0.3));
}

TEST_CASE("water from 2 °C shrinks first, then grows with every degree") {
    CHECK(expansion_volume(heating(100, 2, 4))->volume.si() < 0.0);
    for (double t = 5.0; t < 150.0; t += 5.0)
        CHECK(expansion_volume(heating(100, 5, t + 5))->volume >
              expansion_volume(heating(100, 5, t))->volume);
    CHECK(expansion_volume(heating(100, 40, 40))->volume.si() == 0.0);
}

TEST_CASE("the vessel of a loop at a safety valve of 3 bar") {
    // Arithmetic of the equation; density from python3-iapws 1.5.2.
    const auto vessel = loop_vessel(loop());
    REQUIRE(vessel);
    CHECK(is_near(vessel->pre_charge.in_kilopascals(), 60, 1e-9));
    CHECK(is_near(vessel->end_pressure.in_kilopascals(), 250, 1e-9));
    CHECK(is_within(vessel->least_volume.si() * 1e3, 7.603931, 0.3));
}

TEST_CASE("a safety valve below the pre-charge, and a loop that shrinks, are refused") {
    auto high = loop();
    high.static_pressure = bar(2.3);
    REQUIRE(!loop_vessel(high));
    CHECK(loop_vessel(high).error().what ==
          "The safety valve opens before the vessel has taken anything in.");
    auto cooled = loop();
    cooled.loop = heating(22, 80, 10);
    CHECK(!loop_vessel(cooled));
    auto unknown = loop();
    unknown.relief = bar(not_a_number);
    CHECK(!loop_vessel(unknown));
}

TEST_CASE("the cold vessel at 3 bar with 5.5 bar allowed") {
    // Arithmetic of Boyle's law (numpy 1.24.2).
    const auto vessel = cold_vessel({litres(2.424), bar(3), bar(5.5)});
    REQUIRE(vessel);
    CHECK(is_within(vessel->usable_fraction, 0.3653846154, 1e-4));
    CHECK(is_within(vessel->least_volume.si() * 1e3, 6.634105263, 1e-4));
    CHECK(!cold_vessel({litres(2.424), bar(5.5), bar(5.5)}));
    CHECK(!cold_vessel({litres(0), bar(3), bar(5.5)}));
    CHECK(!cold_vessel({litres(2.424), bar(not_a_number), bar(5.5)}));
}

TEST_CASE("volumes and temperatures that cannot be are refused") {
    CHECK(!expansion_volume(heating(0, 15, 60)));
    CHECK(!expansion_volume(heating(not_a_number, 15, 60)));
    CHECK(!expansion_volume(heating(150, -1, 60)));
    CHECK(!expansion_volume(heating(150, 15, 201)));
    CHECK(!expansion_volume(heating(150, 15, not_a_number)));
}
