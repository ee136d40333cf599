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

Facts antifreeze_house() {
    return facts_with({{"sys.kind", "indirect"}, {"sys.run_hot_m", "0.6"}, {"sys.run_cold_m", "0.6"}, {"sys.pipe_od_mm", "22"},
                       {"sys.coll_len_m", "2"}, {"sys.tilt_target", "30"}, {"sys.min_rise_mm", "150"},
                       {"site.t_min_c", "-13"}});
}

// Nothing is measured in this house but what `freezing_c` says.
Context context_of(const Facts& facts, std::optional<double> freezing_c = std::nullopt) {
    static const auto library = testing::library_with();
    Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    if (freezing_c)
        context.value_of = [freezing_c](const CheckId& id) -> std::optional<units::Amount> {
            if (id != CheckId{"loop-freeze-point"}) return std::nullopt;
            return units::Amount{units::Temperature::celsius(*freezing_c).in_kelvin(), units::unit_named("°C")->dimension, {}};
        };
    return context;
}

double normal(wm::testing::Dice& dice) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - dice.share()));
    return radius * std::cos(2.0 * std::numbers::pi * dice.share());
}

}  // namespace

TEST_CASE("the loop of a house is what its facts say") {
    const auto facts = direct_house();
    const auto loop = loop_of(context_of(facts), store_in_sun());
    REQUIRE(loop);
    CHECK(loop->height.si() == doctest::Approx(2.0 * 0.5 / 2.0 + 0.15 + 0.25));
    CHECK(loop->pipe.bore.si() == doctest::Approx(0.020));
    CHECK(loop->pipe.length.si() == doctest::Approx(1.2));
    // Source: properties python3-iapws 1.5.2; roots by scipy 1.10.1 brentq, of the same loop (see plant/loop_in_sun).
    const auto expected = loop_expected(*loop, 0.05);
    REQUIRE(expected);
    CHECK(expected->rise.value == doctest::Approx(14.313911256).epsilon(1e-4));
    CHECK(expected->litres_a_minute == doctest::Approx(60.0 * 0.020525360878).epsilon(1e-4));

    const auto unknown = facts_with({{"sys.kind", "indirect"}});
    CHECK_FALSE(loop_of(context_of(unknown), store_in_sun()));
    const auto bare = facts_with({{"sys.kind", "direct"}});
    CHECK_FALSE(loop_of(context_of(bare), store_in_sun()));
    auto night = *loop;
    night.sun = units::Irradiance::from_si(0.0);
    CHECK_FALSE(loop_expected(night, 0.05));
}

TEST_CASE("antifreeze is as strong as measured, or as the frost of the place asks") {
    const auto facts = antifreeze_house();
    // −13 °C less 5 K margin less 2 K of the step: −20 °C; 40 % freezes at −20.6 °C.
    // Source: Lange's Handbook of Chemistry, 15th ed., Table 5.13.
    CHECK(*antifreeze_percent(context_of(facts)) == doctest::Approx(40.0));
    CHECK(*antifreeze_percent(context_of(facts, -26.7)) == doctest::Approx(45.0).epsilon(1e-6));
    CHECK(*antifreeze_percent(context_of(facts, -33.3)) == doctest::Approx(50.0).epsilon(1e-6));
    CHECK(*antifreeze_percent(context_of(facts, -50.0)) == doctest::Approx(50.0).epsilon(1e-6));
    const auto direct = direct_house();
    CHECK_FALSE(antifreeze_percent(context_of(direct, -20.0)));

    const auto loop = loop_of(context_of(facts), store_in_sun());
    REQUIRE(loop);
    CHECK(loop->cold.in_celsius() == doctest::Approx(26.0));
    // Source: ASHRAE Handbook Fundamentals 2001, chapter 21; roots by scipy 1.10.1 (see plant/loop_in_sun).
    const auto expected = loop_expected(*loop, 0.05);
    REQUIRE(expected);
    CHECK(expected->rise.value == doctest::Approx(12.505803).epsilon(0.005));
    CHECK(expected->litres_a_minute == doctest::Approx(60.0 * 0.0254203).epsilon(0.005));
}

TEST_CASE("the uncertainty of the loop's rise is the scatter of loops drawn at random") {
    for (const bool antifreeze : {false, true}) {
        CAPTURE(antifreeze);
        const auto facts = antifreeze ? antifreeze_house() : direct_house();
        const auto loop = *loop_of(context_of(facts), store_in_sun());
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
            if (antifreeze) drawn.cold = drawn.cold + jacket_step_doubt * normal(dice);
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
}

}  // namespace wm::checklist
