#include "plant/air_test.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::not_a_number;

namespace {
SealedGas gas(double p1, double t1, double t2, double pa1, double pa2) {
    return {GaugePressure::kilopascals(p1), Temperature::celsius(t1), Temperature::celsius(t2),
            AbsolutePressure::kilopascals(pa1), AbsolutePressure::kilopascals(pa2)};
}
}  // namespace

TEST_CASE("five kelvin colder cost 100 kPa of air 3.4 kPa") {
    // Arithmetic of the ideal gas law (numpy 1.24.2).
    CHECK(is_near(expected_gas_pressure(gas(100, 20, 15, 101.325, 101.325))->in_kilopascals(),
                  96.566178, 0.001));
    CHECK(is_near(expected_gas_pressure(gas(300, 28, 21.5, 99.8, 100.1))->in_kilopascals(),
                  291.07075, 0.001));
}

TEST_CASE("one kilopascal of barometer moves the gauge by one") {
    const auto high = expected_gas_pressure(gas(100, 20, 20, 100, 101));
    CHECK(is_near(high->in_kilopascals(), 99, 1e-9));
}

TEST_CASE("what the weather explains is no loss") {
    const auto weather = gas(300, 28, 21.5, 99.8, 100.1);
    CHECK(is_near(unexplained_loss(weather, *expected_gas_pressure(weather))->si(), 0, 1e-6));
    CHECK(unexplained_loss(weather, GaugePressure::kilopascals(280))->si() > 11000);
}

TEST_CASE("hot gas, high pressure and broken barometers are refused") {
    CHECK(!expected_gas_pressure(gas(100, 61, 15, 101, 101)));
    CHECK(!expected_gas_pressure(gas(100, -273.15, 15, 101, 101)));
    CHECK(!expected_gas_pressure(gas(1000, 20, 15, 101, 101)));
    CHECK(!expected_gas_pressure(gas(100, 20, 15, 10, 101)));
    CHECK(!expected_gas_pressure(gas(not_a_number, 20, 15, 101, 101)));
    CHECK(!unexplained_loss(gas(100, 20, 15, 101, 101), GaugePressure::kilopascals(not_a_number)));
    CHECK(!unexplained_loss(gas(100, 20, 15, 101, 101), GaugePressure::kilopascals(-102)));
    CHECK(!unexplained_loss(gas(100, 20, 15, 101, 101), GaugePressure::kilopascals(1000)));
}

template <class A, class B>
concept loses = requires(A a, B b) {
    unexplained_loss(a, b);
};
static_assert(loses<SealedGas, GaugePressure>);
static_assert(!loses<SealedGas, AbsolutePressure>, "the gauge is read, not the vacuum");
