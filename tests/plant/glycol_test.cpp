#include "plant/glycol.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;
using wm::units::Temperature;

TEST_CASE("first ice by volume is that of the handbook, straight between its rows") {
    // Source: Lange's Handbook of Chemistry, 15th ed., Table 5.13.
    for (const auto& [percent, celsius] : {std::pair{0.0, 0.0},
                                           {5.0, -1.1},
                                           {20.0, -6.7},
                                           {25.0, -8.9},
                                           {30.0, -12.8},
                                           {35.0, -16.1},
                                           {40.0, -20.6},
                                           {45.0, -26.7},
                                           {50.0, -33.3},
                                           {37.0, -17.9}}) {
        CAPTURE(percent);
        const auto freezing = glycol_freezing_point(percent);
        REQUIRE(freezing);
        CHECK(is_near(freezing->in_celsius(), celsius, 0.05));
    }
}

TEST_CASE("properties by mass agree with the polynomial as another library evaluates it") {
    // Source: Melinder 2010, IIR, polynomial with published coefficients.
    CHECK(is_near(glycol_freezing_point_by_mass(0.4)->in_celsius(), -20.57, 0.02));
    const auto mixture = glycol_properties(0.4, Temperature::celsius(20.0));
    REQUIRE(mixture);
    CHECK(is_near(mixture->freezing_point.in_celsius(), -20.568245, 0.01));
    CHECK(is_within(mixture->density.si(), 1032.2727, 0.001));
    CHECK(is_within(mixture->specific_heat.si(), 3706.7226, 0.001));
    REQUIRE(mixture->viscosity);
    CHECK(is_within(mixture->viscosity->si(), 0.0043837815, 0.01));
}

TEST_CASE("mass fraction from volume fraction") {
    // Arithmetic of the definition.
    CHECK(is_near(*glycol_mass_fraction(0.4), 0.40897608, 1e-5));
    CHECK(is_near(*glycol_mass_fraction(0.3), 0.30788355, 1e-5));
    CHECK(*glycol_mass_fraction(0.0) == 0.0);
    CHECK(*glycol_mass_fraction(1.0) == 1.0);
}

TEST_CASE("both sources agree within 1 K where loops are filled, from 30 % to 50 %") {
    for (double percent = 30.0; percent <= 50.0; percent += 5.0) {
        CAPTURE(percent);
        const auto by_mass = glycol_freezing_point_by_mass(*glycol_mass_fraction(percent / 100.0));
        REQUIRE(by_mass);
        CHECK(is_near(by_mass->in_celsius(), glycol_freezing_point(percent)->in_celsius(), 1.0));
    }
}

TEST_CASE("more glycol always freezes lower") {
    for (double percent = 0.0; percent < 50.0; percent += 0.5)
        CHECK(*glycol_freezing_point(percent + 0.5) < *glycol_freezing_point(percent));
}

TEST_CASE("mixtures and temperatures outside the sources are refused") {
    for (const double percent : {-1.0, 50.1, not_a_number}) CHECK(!glycol_freezing_point(percent));
    for (const double fraction : {0.149, 0.571, not_a_number}) {
        CHECK(!glycol_freezing_point_by_mass(fraction));
        CHECK(!glycol_properties(fraction, Temperature::celsius(20.0)));
    }
    for (const double fraction : {-0.1, 1.1, not_a_number}) CHECK(!glycol_mass_fraction(fraction));
    CHECK(!glycol_properties(0.4, Temperature::celsius(-21.0)));
    CHECK(!glycol_properties(0.4, Temperature::celsius(101.0)));
    CHECK(!glycol_properties(0.4, Temperature::celsius(not_a_number)));
}

TEST_CASE("above 40 °C the viscosity is not known") {
    CHECK(glycol_properties(0.4, Temperature::celsius(40.0))->viscosity);
    CHECK(!glycol_properties(0.4, Temperature::celsius(41.0))->viscosity);
}
