// The standard uncertainty of the heat balance, against drawing its inputs at random.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "plant/warm_up.hpp"
#include "workout_mutants.hpp"

namespace wm::plant {
namespace {

constexpr int draws = 20'000;

double normal(testing::Dice& dice) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - dice.share()));
    return radius * std::cos(2.0 * std::numbers::pi * dice.share());
}

Window window(double end) {
    return {.store = {.capacity = units::HeatCapacity::from_si(652300.0),
                      .collector = units::Area::from_si(2.0),
                      .curve = {0.78, LossCoefficient::from_si(3.8),
                                QuadraticLossCoefficient::from_si(0.012)},
                      .loss = units::Conductance::from_si(3.0),
                      .fluid_over_store = units::kelvins(5.0),
                      .sun = units::Irradiance::from_si(820.0),
                      .air = units::Temperature::celsius(24.0)},
            .start = units::Temperature::celsius(21.0),
            .end = units::Temperature::celsius(end),
            .length = units::Time::from_si(7200.0),
            .uncertainty = {.temperature = units::kelvins(0.3),
                            .capacity = units::HeatCapacity::from_si(13000.0),
                            .loss = units::Conductance::from_si(0.5),
                            .sun = units::Irradiance::from_si(25.0),
                            .fluid_over_air = units::kelvins(2.0),
                            .model = 0.05},
            .least_ratio = 0.80};
}

}  // namespace

TEST_CASE(
    "the uncertainty of a heat balance is the scatter of balances with inputs drawn at random") {
    for (const double end : {34.2, 31.5, 27.0}) {
        CAPTURE(end);
        const Window measured = window(end);
        const auto stated = heat_balance(measured);
        REQUIRE(stated);
        testing::Dice dice{7};
        double sum = 0.0, squares = 0.0;
        for (int i = 0; i < draws; ++i) {
            Window drawn = measured;
            const auto off = [&](double u) { return u * normal(dice); };
            drawn.start = units::Temperature::celsius(21.0 + off(0.3));
            drawn.end = units::Temperature::celsius(end + off(0.3));
            drawn.store.capacity = units::HeatCapacity::from_si(652300.0 + off(13000.0));
            drawn.store.loss = units::Conductance::from_si(3.0 + off(0.5));
            drawn.store.sun = units::Irradiance::from_si(820.0 + off(25.0));
            drawn.store.fluid_over_store = units::kelvins(5.0 + off(2.0));
            const auto balance = heat_balance(drawn);
            REQUIRE(balance);
            // The curve itself is wrong by a share of the expected gain.
            const double ratio = balance->ratio / (1.0 + off(0.05));
            sum += ratio;
            squares += ratio * ratio;
        }
        const double mean = sum / draws;
        const double found = std::sqrt(squares / draws - mean * mean);
        // Sampling: 0.5 %, four times is 2 %. The expected gain stands below the line with 6 %: its
        // curvature adds 4·0.06² = 1.4 % to the scatter. The mean temperature of the window moves
        // both sides alike, which the stated figure leaves out: less than 1 %.
        CHECK(std::abs(stated->uncertainty / found - 1.0) < 0.045);
        CHECK(std::abs(mean / stated->ratio - 1.0) < 0.01);
    }
}

}  // namespace wm::plant
