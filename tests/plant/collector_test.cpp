#include "plant/collector.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::not_a_number;

namespace {
CollectorCurve curve(double eta0, double a1, double a2) {
    return {eta0, LossCoefficient::from_si(a1), QuadraticLossCoefficient::from_si(a2)};
}
CollectorState state(double sun, double fluid, double air) {
    return {watts_per_square_metre(sun), Temperature::celsius(fluid), Temperature::celsius(air)};
}
const auto flat_plate = curve(0.78, 3.8, 0.012);
}  // namespace

TEST_CASE("efficiency and stagnation of two flat plates") {
    // Arithmetic of the curve; the roots confirmed with scipy brentq.
    CHECK(is_near(*collector_efficiency(flat_plate, state(800, 50, 20)), 0.624, 1e-6));
    CHECK(is_near(*collector_efficiency(curve(0.75, 4.2, 0.01), state(650, 62, 14)), 0.4044, 1e-6));
    const auto sun = watts_per_square_metre(1000);
    const auto air = Temperature::celsius(30);
    CHECK(is_near(stagnation_temperature(flat_plate, sun, air)->in_celsius(), 171.78239, 0.001));
    CHECK(is_near(stagnation_temperature(curve(0.75, 4.2, 0), sun, air)->in_celsius(), 208.57143,
                  0.001));
}

TEST_CASE("at stagnation the efficiency is zero, and hotter it is negative") {
    for (const double sun : {200.0, 600.0, 1000.0}) {
        const auto hottest = stagnation_temperature(flat_plate, watts_per_square_metre(sun),
                                                    Temperature::celsius(25));
        REQUIRE(hottest);
        CHECK(is_near(*collector_efficiency(flat_plate, state(sun, hottest->in_celsius(), 25)), 0.0,
                      1e-9));
        CHECK(*collector_efficiency(flat_plate, state(sun, hottest->in_celsius() + 10, 25)) < 0.0);
    }
}

TEST_CASE("a quadratic loss that vanishes leads to the linear answer") {
    const auto sun = watts_per_square_metre(1000);
    const auto air = Temperature::celsius(30);
    const double linear = stagnation_temperature(curve(0.75, 4.2, 0), sun, air)->in_celsius();
    CHECK(is_near(stagnation_temperature(curve(0.75, 4.2, 1e-12), sun, air)->in_celsius(), linear,
                  1e-6));
}

TEST_CASE("square sun loses nothing, slanting sun more and more") {
    CHECK(*incidence_modifier(0.1, Angle::degrees(0)) == 1.0);
    CHECK(is_near(*incidence_modifier(0.1, Angle::degrees(59.999999)), 0.9, 1e-6));
    CHECK(!incidence_modifier(0.1, Angle::degrees(61)));
}

TEST_CASE("no sun, no loss and no number are refused") {
    CHECK(!collector_efficiency(flat_plate, state(0, 50, 20)));
    CHECK(!collector_efficiency(flat_plate, state(not_a_number, 50, 20)));
    CHECK(!collector_efficiency(curve(1.2, 3.8, 0.012), state(800, 50, 20)));
    CHECK(!stagnation_temperature(curve(0.78, 0, 0), watts_per_square_metre(1000),
                                  Temperature::celsius(30)));
    CHECK(!stagnation_temperature(curve(not_a_number, 1, 0), watts_per_square_metre(1000),
                                  Temperature::celsius(30)));
}
