#include "plant/locked_pipe.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
ShutPipe pipe(double celsius, double pascal, double gas = 0.0) {
    return {.water = Temperature::celsius(celsius),
            .pressure = AbsolutePressure::pascals(pascal),
            .tube = {millimetres(22), millimetres(0.9)},
            .gas_fraction = gas};
}
}  // namespace

TEST_CASE("a full copper pipe gains 2.5 bar per kelvin at 20 °C and loses at 5 °C") {
    // Source: properties from python3-iapws 1.5.2 (IF97), the rest arithmetic.
    CHECK(is_within(tube_compliance(pipe(20, 1e6).tube)->si(), 1.720740741e-10, 1e-4));
    CHECK(is_within(pressure_per_kelvin(pipe(20, 1e6))->si(), 249444.64, 0.5));
    CHECK(is_within(pressure_per_kelvin(pipe(20, 1101325, 0.005))->si(), 33510.641, 0.5));
    CHECK(is_within(pressure_per_kelvin(pipe(5, 7e5))->si(), -49579.945, 0.5));
}

TEST_CASE("every bit of trapped gas softens the rise") {
    double last = pressure_per_kelvin(pipe(20, 1e6))->si();
    for (const double gas : {0.001, 0.005, 0.02, 0.1}) {
        const double now = pressure_per_kelvin(pipe(20, 1e6, gas))->si();
        CHECK(now < last);
        last = now;
    }
}

TEST_CASE("a finite change leads there and back, and a small one follows the slope") {
    const auto start = pipe(20, 1e6, 0.002);
    const auto warm = pressure_after(start, Temperature::celsius(26));
    REQUIRE(warm);
    auto back = start;
    back.water = Temperature::celsius(26);
    back.pressure = *warm;
    back.gas_fraction = 0.002 * (1e6 / warm->in_pascals()) * (299.15 / 293.15);
    CHECK(is_within(pressure_after(back, Temperature::celsius(20))->in_pascals(), 1e6, 0.5));
    const auto little = pressure_after(start, Temperature::celsius(20.01));
    CHECK(is_within(little->in_pascals() - 1e6, pressure_per_kelvin(start)->si() * 0.01, 1.0));
    CHECK(is_near(pressure_after(start, start.water)->in_pascals(), 1e6, 1e-6));
}

TEST_CASE("a pipe that would pull a vacuum, and impossible inputs, are refused") {
    CHECK(!pressure_after(pipe(30, 2e5), Temperature::celsius(20)));
    CHECK(!pressure_per_kelvin(pipe(20, 1e6, 1.0)));
    CHECK(!pressure_per_kelvin(pipe(20, 1e6, -0.1)));
    CHECK(!pressure_per_kelvin(pipe(not_a_number, 1e6)));
    CHECK(!pressure_after(pipe(20, 1e6), Temperature::celsius(not_a_number)));
    CHECK(!tube_compliance({millimetres(22), millimetres(12)}));
}
