#include "plant/warm_up.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {

SolarStore store(double quadratic = 0.012) {
    return {.capacity = HeatCapacity::from_si(627000),
            .collector = square_metres(2),
            .curve = {0.78, LossCoefficient::from_si(3.8),
                      QuadraticLossCoefficient::from_si(quadratic)},
            .loss = Conductance::from_si(3),
            .fluid_over_store = kelvins(0),
            .sun = watts_per_square_metre(800),
            .air = Temperature::celsius(25)};
}

Window window(double end) {
    auto of = store();
    of.capacity = HeatCapacity::from_si(652300);
    of.fluid_over_store = kelvins(5);
    of.sun = watts_per_square_metre(820);
    of.air = Temperature::celsius(24);
    return {.store = of,
            .start = Temperature::celsius(21),
            .end = Temperature::celsius(end),
            .length = hours(2),
            .uncertainty = {.temperature = kelvins(0.3),
                            .capacity = HeatCapacity::from_si(13000),
                            .loss = Conductance::from_si(1),
                            .sun = watts_per_square_metre(25),
                            .fluid_over_air = kelvins(2)}};
}

}  // namespace

TEST_CASE("an hour of sun warms the store as an independent solver says") {
    // Source: scipy 1.10.1 solve_ivp DOP853.
    const auto end = temperature_after(store(), Temperature::celsius(20), hours(1));
    REQUIRE(end);
    CHECK(is_near(end->in_celsius(), 27.246274, 0.005));
}

TEST_CASE("without quadratic loss the integration is the exponential of the closed form") {
    const auto of = store(0.0);
    const double loss = 2.0 * 3.8 + 3.0;
    const double limit = 25.0 + 2.0 * 0.78 * 800.0 / loss;
    for (const double h : {0.1, 1.0, 5.0, 40.0}) {
        const double closed = limit + (20.0 - limit) * std::exp(-h * 3600.0 * loss / 627000.0);
        CHECK(is_near(temperature_after(of, Temperature::celsius(20), hours(h))->in_celsius(),
                      closed, 1e-6));
    }
}

TEST_CASE("no time changes nothing, more sun warms more") {
    auto bright = store();
    bright.sun = watts_per_square_metre(900);
    const auto start = Temperature::celsius(20);
    CHECK(is_near(temperature_after(store(), start, hours(0))->in_celsius(), 20.0, 1e-9));
    CHECK(*temperature_after(bright, start, hours(1)) >
          *temperature_after(store(), start, hours(1)));
}

TEST_CASE("three windows: conforms, cannot tell, does not conform") {
    // Source: propagation by python3-uncertainties 3.1.6.
    struct Row {
        double end, ratio, uncertainty;
        BalanceVerdict verdict;
    };
    for (const Row row : {Row{34.2, 0.9955599519, 0.071262877, BalanceVerdict::Conforms},
                          Row{31.5, 0.7834401954, 0.059112083, BalanceVerdict::Inconclusive},
                          Row{27.0, 0.4381616422, 0.041671861, BalanceVerdict::DoesNotConform}}) {
        CAPTURE(row.end);
        const auto balance = heat_balance(window(row.end));
        REQUIRE(balance);
        CHECK(is_within(balance->ratio, row.ratio, 1e-4));
        CHECK(is_within(balance->uncertainty, row.uncertainty, 1e-3));
        CHECK(balance->verdict == row.verdict);
    }
}

TEST_CASE("twice the store takes twice the window") {
    const ThermometerShare share{kelvins(0.3), HeatCapacity::from_si(627300), 0.05, watts(1000)};
    CHECK(is_within(shortest_window(share)->si(), 5322.817006, 1e-4));  // arithmetic
    auto twice = share;
    twice.capacity = share.capacity * 2.0;
    CHECK(is_within(shortest_window(twice)->si(), 2.0 * shortest_window(share)->si(), 1e-9));
}

TEST_CASE("windows and stores without meaning are refused") {
    CHECK(!temperature_after(store(), Temperature::celsius(20), hours(49)));
    CHECK(!temperature_after(store(), Temperature::celsius(not_a_number), hours(1)));
    auto dark = window(34.2);
    dark.store.sun = watts_per_square_metre(0);
    CHECK(heat_balance(dark).error().what == "No gain is expected in this window.");
    auto none = window(34.2);
    none.length = seconds(0);
    CHECK(!heat_balance(none));
    CHECK(!shortest_window({kelvins(0.3), HeatCapacity::from_si(627300), 0.0, watts(1000)}));
    CHECK(!shortest_window({kelvins(0.3), HeatCapacity::from_si(627300), 0.05, watts(0)}));
    CHECK(!store_capacity(kilograms(0), HeatCapacity::from_si(0)));
}
