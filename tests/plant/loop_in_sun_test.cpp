#include "plant/loop_in_sun.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

namespace wm::plant {
namespace {

using testing::is_within;
using units::Temperature;

LoopInSun short_loop() {
    return {.cold = Temperature::celsius(20.0),
            .height = units::metres(0.9),
            .pipe = {.bore = units::metres(0.020), .length = units::metres(1.2), .fittings = 6.0},
            .collector_resistance = FlowResistance::from_si(800.0),
            .collector = units::Area::from_si(2.0),
            .curve = {0.80, LossCoefficient::from_si(3.5), QuadraticLossCoefficient::from_si(0.015)},
            .sun = units::Irradiance::from_si(800.0),
            .air = Temperature::celsius(20.0)};
}

double rise_of(const LoopInSun& loop) {
    const auto state = loop_in_sun(loop);
    REQUIRE(state);
    return state->rise.si();
}

}  // namespace

TEST_CASE("the loop settles where the water carries just the collector's gain") {
    // Source: properties python3-iapws 1.5.2; both roots by scipy 1.10.1 brentq.
    const auto state = loop_in_sun(short_loop());
    REQUIRE(state);
    CHECK(is_within(state->rise.si(), 14.313911256, 0.01));
    CHECK(is_within(state->flow.flow.si(), 0.020525360878, 0.01));
    const LoopInSun warm{.cold = Temperature::celsius(45.0),
                         .height = units::metres(0.6),
                         .pipe = {.bore = units::metres(0.020), .length = units::metres(3.0), .fittings = 8.0},
                         .collector_resistance = FlowResistance::from_si(500.0),
                         .collector = units::Area::from_si(2.0),
                         .curve = {0.78, LossCoefficient::from_si(3.8), QuadraticLossCoefficient::from_si(0.012)},
                         .sun = units::Irradiance::from_si(600.0),
                         .air = Temperature::celsius(25.0)};
    CHECK(is_within(rise_of(warm), 10.302806530, 0.01));
    auto thin = short_loop();
    thin.pipe.bore = units::metres(0.013);
    thin.pipe.length = units::metres(8.0);
    CHECK(is_within(rise_of(thin), 31.796148867, 0.01));
}

TEST_CASE("a loop of antifreeze settles likewise") {
    // Source: ASHRAE Handbook Fundamentals 2001, chapter 21, all its rows each 5 K; both roots by scipy 1.10.1 brentq.
    auto loop = short_loop();
    loop.cold = Temperature::celsius(26.0);
    loop.glycol_percent = 40.0;
    const auto state = loop_in_sun(loop);
    REQUIRE(state);
    CHECK(is_within(state->rise.si(), 12.505803, 0.5));
    CHECK(is_within(state->flow.flow.si(), 0.0254203, 0.5));
    loop.cold = Temperature::celsius(31.0);
    loop.glycol_percent = 50.0;
    loop.pipe.length = units::metres(3.0);
    CHECK(is_within(rise_of(loop), 14.920526, 0.5));
    loop.cold = Temperature::celsius(95.0);
    CHECK_FALSE(loop_in_sun(loop));
}

TEST_CASE("a loop answers sun, height, friction and loss the way physics says") {
    const double rise = rise_of(short_loop());
    auto dim = short_loop();
    dim.sun = units::Irradiance::from_si(400.0);
    CHECK(rise_of(dim) < rise);
    auto higher = short_loop();
    higher.height = units::metres(1.8);
    CHECK(rise_of(higher) < rise);
    auto rough_way = short_loop();
    rough_way.pipe.fittings = 20.0;
    CHECK(rise_of(rough_way) > rise);
    auto good_glass = short_loop();
    good_glass.curve.loss = LossCoefficient::from_si(0.0);
    CHECK(rise_of(good_glass) > rise);
}

TEST_CASE("no sun, a collector that only loses and a store below its collector are refused") {
    auto night = short_loop();
    night.sun = units::Irradiance::from_si(0.0);
    CHECK(loop_in_sun(night).error().what == "The collector gains nothing under this sun.");
    auto below = short_loop();
    below.height = units::metres(-0.5);
    CHECK(loop_in_sun(below).error().what == "Nothing drives this loop.");
    auto boiling = short_loop();
    boiling.cold = Temperature::celsius(105.0);
    CHECK_FALSE(loop_in_sun(boiling));
    auto nonsense = short_loop();
    nonsense.collector = units::Area::from_si(testing::not_a_number);
    CHECK_FALSE(loop_in_sun(nonsense));
}

}  // namespace wm::plant
