#include "plant/insulation.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
InsulatedPipe pipe(double thickness_mm) {
    return {millimetres(22),
            millimetres(thickness_mm),
            Conductivity::from_si(0.038),
            SurfaceCoefficient::from_si(10),
            Temperature::celsius(60),
            Temperature::celsius(20)};
}
const auto capacity = HeatCapacity::from_si(640000);
}  // namespace

TEST_CASE("13 mm of foam, and none") {
    // Arithmetic of the equation (numpy 1.24.2).
    const auto foam = pipe_heat_loss(pipe(13));
    REQUIRE(foam);
    CHECK(is_within(foam->loss.si(), 10.176371, 0.001));
    CHECK(is_near(foam->jacket.in_celsius(), 26.748416, 0.001));
    const auto bare = pipe_heat_loss(pipe(0));
    REQUIRE(bare);
    CHECK(is_within(bare->loss.si(), 27.646015, 0.001));
    CHECK(is_near(bare->jacket.in_celsius(), 60, 1e-9));
}

TEST_CASE("every millimetre above the critical radius saves heat and cools the jacket") {
    for (double mm = 0.0; mm < 60.0; mm += 1.0) {
        CHECK(pipe_heat_loss(pipe(mm + 1))->loss < pipe_heat_loss(pipe(mm))->loss);
        CHECK(pipe_heat_loss(pipe(mm + 1))->jacket < pipe_heat_loss(pipe(mm))->jacket);
    }
}

TEST_CASE("standing loss and the morning temperature") {
    // Arithmetic of the equation (numpy 1.24.2).
    const auto loss = standing_loss(watts(1900.0 / 24.0));
    REQUIRE(loss);
    CHECK(is_within(loss->si(), 1.759259259, 1e-4));
    const Cooling night{*loss, capacity, Temperature::celsius(60), Temperature::celsius(12)};
    const auto morning = cooled_temperature(night, hours(12));
    REQUIRE(morning);
    CHECK(is_near(morning->in_celsius(), 54.625429, 0.001));
    const auto back = loss_from_cooling({capacity, night.start, *morning, night.air, hours(12)});
    REQUIRE(back);
    CHECK(is_within(back->si(), loss->si(), 1e-6));
}

TEST_CASE("wind cools the jacket up to the end of its equation") {
    CHECK(is_near(outdoor_surface(metres_per_second(2))->si(), 13.3, 1e-9));
    CHECK(!outdoor_surface(metres_per_second(6)));
}

TEST_CASE("pipes and stores that cannot be are refused") {
    CHECK(!pipe_heat_loss(pipe(-1)));
    CHECK(!pipe_heat_loss(pipe(not_a_number)));
    CHECK(!standing_loss(watts(0)));
    CHECK(!cooled_temperature({Conductance::from_si(2), HeatCapacity::from_si(0),
                               Temperature::celsius(60), Temperature::celsius(12)},
                              hours(1)));
    const auto t = [](double c) { return Temperature::celsius(c); };
    CHECK(!loss_from_cooling({capacity, t(60), t(65), t(12), hours(12)}));
    CHECK(!loss_from_cooling({capacity, t(60), t(12), t(12), hours(12)}));
    CHECK(!loss_from_cooling({capacity, t(60), t(50), t(not_a_number), hours(12)}));
}
