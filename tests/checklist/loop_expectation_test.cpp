#include "checklist/loop_expectation.hpp"

#include <cmath>
#include <numbers>

#include "checklist/testing.hpp"
#include "workout_mutants.hpp"

namespace wm::checklist {
namespace {

using testing::facts_with;

plant::SolarStore store_in_sun() {
    return {.capacity = units::HeatCapacity::from_si(650'000.0),
            .collector = units::Area::from_si(2.0),
            .curve = {0.80, plant::LossCoefficient::from_si(3.5), plant::QuadraticLossCoefficient::from_si(0.015)},
            .loss = units::Conductance::from_si(3.0),
            .fluid_over_store = units::kelvins(5.0),
            .sun = units::Irradiance::from_si(800.0),
            .air = units::Temperature::celsius(20.0)};
}

Facts direct_house() {
    return facts_with({{"sys.kind", "direct"}, {"sys.run_hot_m", "0.6"}, {"sys.run_cold_m", "0.6"}, {"sys.pipe_od_mm", "22"},
                       {"sys.coll_len_m", "2"}, {"sys.tilt_target", "30"}, {"sys.min_rise_mm", "150"}});
}

double normal(wm::testing::Dice& dice) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - dice.share()));
    return radius * std::cos(2.0 * std::numbers::pi * dice.share());
}

}  // namespace

TEST_CASE("the loop of a house is what its facts say") {
    const auto loop = loop_of(direct_house(), store_in_sun());
    REQUIRE(loop);
    CHECK(loop->height.si() == doctest::Approx(2.0 * 0.5 / 2.0 + 0.15 + 0.25));
    CHECK(loop->pipe.bore.si() == doctest::Approx(0.020));
    CHECK(loop->pipe.length.si() == doctest::Approx(1.2));
    // Source: properties python3-iapws 1.5.2; roots by scipy 1.10.1 brentq, of the same loop (see plant/loop_in_sun).
    const auto expected = loop_expected(*loop, 0.05);
    REQUIRE(expected);
    CHECK(expected->rise.value == doctest::Approx(14.313911256).epsilon(1e-4));
    CHECK(expected->litres_a_minute == doctest::Approx(60.0 * 0.020525360878).epsilon(1e-4));

    CHECK_FALSE(loop_of(facts_with({{"sys.kind", "indirect"}}), store_in_sun()));
    CHECK_FALSE(loop_of(facts_with({{"sys.kind", "direct"}}), store_in_sun()));
    auto night = *loop;
    night.sun = units::Irradiance::from_si(0.0);
    CHECK_FALSE(loop_expected(night, 0.05));
}

TEST_CASE("the uncertainty of the loop's rise is the scatter of loops drawn at random") {
    const auto loop = *loop_of(direct_house(), store_in_sun());
    const auto stated = loop_expected(loop, 0.05);
    REQUIRE(stated);
    constexpr int draws = 2'000;
    wm::testing::Dice dice{11};
    double sum = 0.0;
    double squares = 0.0;
    for (int i = 0; i < draws; ++i) {
        auto drawn = loop;
        // No fitting and no collector pushes: what falls below zero is left at it (one draw in 44).
        const auto off = [&](double value, double share) { return std::max(0.0, value * (1.0 + share * normal(dice))); };
        drawn.sun = units::Irradiance::from_si(off(800.0, 0.05));
        drawn.height = units::metres(off(loop.height.si(), loop_height_doubt));
        drawn.pipe.fittings = off(loop.pipe.fittings, loop_fittings_doubt);
        drawn.collector_resistance = plant::FlowResistance::from_si(off(loop.collector_resistance.si(), loop_collector_doubt));
        const auto state = plant::loop_in_sun(drawn);
        REQUIRE(state);
        sum += state->rise.si();
        squares += state->rise.si() * state->rise.si();
    }
    const double mean = sum / draws;
    const double scatter = std::sqrt(squares / draws - mean * mean);
    // Sampling knows the scatter to 1/√(2·2000) = 1.6 %, four times is 6.4 %; cutting at zero takes some 2 % off.
    CHECK(std::abs(stated->rise.standard_uncertainty / scatter - 1.0) < 0.09);
    CHECK(std::abs(mean / stated->rise.value - 1.0) < 0.03);
}

}  // namespace wm::checklist
