#include "plant/water.hpp"

#include <doctest/doctest.h>

#include <concepts>

#include "plant/testing.hpp"

using namespace wm::plant;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;
using wm::units::AbsolutePressure;
using wm::units::GaugePressure;
using wm::units::Temperature;

TEST_CASE("volume and specific heat agree with the verification table of the formulation") {
    // Source: IAPWS R7-97(2012) Table 5, quoted from memory and reproduced by another program.
    struct Row {
        double kelvin, megapascal, m3_per_kg, kj_per_kg_k;
    };
    for (const Row row :
         {Row{300, 3, 0.00100215168, 4.17301218}, Row{300, 80, 0.000971180894, 4.01008987},
          Row{500, 3, 0.00120241800, 4.65580682}}) {
        CAPTURE(row.kelvin);
        CAPTURE(row.megapascal);
        const auto water = water_properties(Temperature::kelvin(row.kelvin),
                                            AbsolutePressure::pascals(row.megapascal * 1e6));
        REQUIRE(water);
        CHECK(is_within(1.0 / water->density.si(), row.m3_per_kg, 1e-5));
        CHECK(is_within(water->specific_heat.si() / 1e3, row.kj_per_kg_k, 1e-5));
    }
}

TEST_CASE("density, heat, expansivity and compressibility agree with an independent library") {
    // Source: python3-iapws 1.5.2 (IF97).
    struct Row {
        double celsius, pascal, rho, cp, beta, kappa;
    };
    for (const Row row : {Row{60, 1e5, 983.21003, 4182.7665, 0.00052313399, 4.4341132e-10},
                          Row{20, 1e6, 998.6168, 4182.0052, 0.00020797664, 4.5723048e-10}}) {
        CAPTURE(row.celsius);
        const auto water = water_properties(Temperature::celsius(row.celsius),
                                            AbsolutePressure::pascals(row.pascal));
        REQUIRE(water);
        CHECK(is_within(water->density.si(), row.rho, 0.002));
        CHECK(is_within(water->specific_heat.si(), row.cp, 0.01));
        CHECK(is_within(water->expansivity.si(), row.beta, 0.5));
        CHECK(is_within(water->compressibility.si(), row.kappa, 0.5));
    }
}

TEST_CASE("boiling pressure agrees with the verification table and with an independent library") {
    // Source: IAPWS R7-97(2012) Table 35 (300 K, 500 K); python3-iapws 1.5.2 (60 °C, 100 °C).
    struct Row {
        double kelvin, pascal, percent;
    };
    for (const Row row : {Row{300, 3536.58941, 1e-5}, Row{500, 2638897.76, 1e-5},
                          Row{333.15, 19945.802, 1e-3}, Row{373.15, 101417.98, 1e-3}}) {
        CAPTURE(row.kelvin);
        const auto pressure = boiling_pressure(Temperature::kelvin(row.kelvin));
        REQUIRE(pressure);
        CHECK(is_within(pressure->in_pascals(), row.pascal, row.percent));
    }
}

TEST_CASE("boiling temperature leads back to the pressure it came from") {
    for (double celsius = 1.0; celsius < 370.0; celsius += 7.3) {
        CAPTURE(celsius);
        const auto pressure = boiling_pressure(Temperature::celsius(celsius));
        REQUIRE(pressure);
        const auto back = boiling_temperature(*pressure);
        REQUIRE(back);
        CHECK(back->in_celsius() == doctest::Approx(celsius).epsilon(1e-7));
    }
}

TEST_CASE("viscosity agrees with an independent library") {
    // Source: python3-iapws 1.5.2 (SR6-08).
    for (const auto& [celsius, expected] : {std::pair{20.0, 0.0010015673}, {60.0, 0.00046603929}}) {
        const auto viscosity = water_viscosity(Temperature::celsius(celsius));
        REQUIRE(viscosity);
        CHECK(is_within(viscosity->si(), expected, 0.01));
    }
}

TEST_CASE("water is densest near 4 °C and never denser when warmer above it") {
    const auto density = [](double celsius) {
        return liquid_water(Temperature::celsius(celsius))->density.si();
    };
    CHECK(density(3.98) > density(2.0));
    CHECK(density(3.98) > density(6.0));
    for (double t = 4.5; t < 300.0; t += 0.5) CHECK(density(t + 0.5) < density(t));
    CHECK(liquid_water(Temperature::celsius(2.0))->expansivity.si() < 0.0);
}

TEST_CASE("steam and temperatures outside the equation are refused") {
    const auto air = AbsolutePressure::kilopascals(100.0);
    CHECK(!water_properties(Temperature::celsius(110.0), air));
    CHECK(water_properties(Temperature::celsius(110.0), air).error().what ==
          "Water of this temperature boils at this pressure.");
    CHECK(!water_properties(Temperature::celsius(-1.0), air));
    CHECK(!water_properties(Temperature::celsius(20.0), AbsolutePressure::pascals(0.0)));
    CHECK(!water_properties(Temperature::celsius(20.0), AbsolutePressure::pascals(1.01e8)));
    CHECK(!water_viscosity(Temperature::celsius(111.0)));
    CHECK(!boiling_pressure(Temperature::celsius(374.0)));
    CHECK(!water_properties(Temperature::celsius(not_a_number), air));
    CHECK(!water_properties(Temperature::celsius(20.0), AbsolutePressure::pascals(not_a_number)));
    CHECK(!boiling_pressure(Temperature::celsius(not_a_number)));
    CHECK(!boiling_temperature(AbsolutePressure::pascals(not_a_number)));
    CHECK(!water_viscosity(Temperature::celsius(not_a_number)));
    CHECK(!liquid_water(Temperature::celsius(not_a_number)));
}

TEST_CASE("liquid water above 100 °C stays liquid at its boiling pressure") {
    const auto water = liquid_water(Temperature::celsius(110.0));
    REQUIRE(water);
    CHECK(water->density.si() > 940.0);
}

template <class T, class P>
concept takes = requires(T t, P p) {
    water_properties(t, p);
};
static_assert(takes<Temperature, AbsolutePressure>);
static_assert(!takes<Temperature, GaugePressure>, "a gauge reading is not the pressure of a table");
static_assert(!takes<AbsolutePressure, Temperature>, "the two arguments cannot change places");
static_assert(!takes<double, double>, "bare numbers are no inputs");
