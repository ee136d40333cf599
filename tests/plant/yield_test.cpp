#include "plant/yield.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {

MonthOfSun january() {
    return {.collector = square_metres(50),
            .loss_product = Quantity<0, 1, -3, -1>::from_si(4),
            .optical_product = 0.74,
            .exchanger_ratio = 0.97,
            .angle_ratio = 0.96,
            .mean_air = Temperature::celsius(-7),
            .day = Irradiation::from_si(12.9e6),
            .days = 31,
            .load = Energy::from_si(36e9)};
}

SavingsCase house() {
    return {.months = {{0.6, Energy::from_si(6e8)}, {0.7, Energy::from_si(6.5e8)}},
            .tariff = EnergyPrice::from_si(0.28 / 3.6e6),
            .emission = EmissionFactor::from_si(0.45 / 3.6e6),
            .cost = 100,
            .years = 1};
}

}  // namespace

TEST_CASE("the textbook January") {
    // Source: Duffie & Beckman ch. 20, inputs from memory; X and Y reproduce 1.5444 and 0.38273.
    const auto month = solar_fraction(january());
    REQUIRE(month);
    CHECK(is_within(month->x, 1.5443952, 0.001));
    CHECK(is_within(month->y, 0.38273096, 0.001));
    CHECK(is_near(month->fraction, 0.26305479, 1e-5));
}

TEST_CASE("the fraction stays between none and all, and grows with the sun") {
    auto month = january();
    month.day = Irradiation::from_si(0);
    CHECK(solar_fraction(month)->fraction == 0.0);
    double last = 0.0;
    for (double mj = 2.0; mj < 90.0; mj += 4.0) {
        month.day = Irradiation::from_si(mj * 1e6);
        const auto now = solar_fraction(month);
        REQUIRE(now);
        CHECK(now->fraction >= last);
        CHECK(now->fraction <= 1.0);
        last = now->fraction;
    }
}

TEST_CASE("load of 150 L a day and its factor") {
    // Arithmetic of the equations (numpy 1.24.2).
    const auto draw = VolumeFlow::from_si(0.150 / 86400.0);
    CHECK(
        is_within(water_load({draw, Temperature::celsius(60), Temperature::celsius(11)}, 31)->si(),
                  947856000, 1e-7));
    CHECK(is_within(*water_heating_factor(Temperature::celsius(60), Temperature::celsius(11),
                                          Temperature::celsius(-7)),
                    1.31869158879, 1e-7));
}

TEST_CASE("savings of two months in one year") {
    // Arithmetic of the equation (numpy 1.24.2).
    const auto saved = savings(house());
    REQUIRE(saved);
    CHECK(is_within(saved->energy.si() / 3.6e6, 226.388888889, 1e-7));
    CHECK(is_within(saved->money, 63.3888888889, 1e-7));
    CHECK(is_within(saved->emission.si(), 101.875, 1e-7));
    CHECK(is_within(saved->present_worth, -36.6111111111, 1e-7));
}

TEST_CASE("without growth and discount the worth is years times money less cost") {
    auto plain = house();
    plain.years = 12;
    CHECK(is_within(savings(plain)->present_worth, 12 * 63.3888888889 - 100, 1e-7));
    auto dear = plain;
    dear.discount = 0.05;
    CHECK(savings(dear)->present_worth < savings(plain)->present_worth);
}

TEST_CASE("months and houses that cannot be are refused") {
    auto month = january();
    month.load = Energy::from_si(0);
    CHECK(!solar_fraction(month));
    month = january();
    month.optical_product = not_a_number;
    CHECK(!solar_fraction(month));
    month = january();
    month.load = Energy::from_si(1e9);
    CHECK(!solar_fraction(month));
    CHECK(!water_load(
        {VolumeFlow::from_si(1e-6), Temperature::celsius(11), Temperature::celsius(11)}, 31));
    CHECK(!water_load(
        {VolumeFlow::from_si(1e-6), Temperature::celsius(60), Temperature::celsius(11)}, 0));
    CHECK(!water_heating_factor(Temperature::celsius(not_a_number), Temperature::celsius(11),
                                Temperature::celsius(0)));
    auto empty = house();
    empty.months.clear();
    CHECK(!savings(empty));
    auto long_lived = house();
    long_lived.years = 51;
    CHECK(!savings(long_lived));
    auto unknown = house();
    unknown.heater_efficiency = 0.0;
    CHECK(!savings(unknown));
}
