#include <doctest/doctest.h>

#include "plant/derived.hpp"
#include "plant/testing.hpp"

namespace wm::plant {

using units::Angle;
using units::kilograms;
using units::metres;
using units::metres_per_second;
using units::newtons;
using units::pascals;
using units::square_metres;
using testing::is_near;
using testing::not_a_number;

TEST_CASE("a quarter of 274 kg with its factor is 1.01 kN per point") {
    BearingLoad load{kilograms(274), pascals(0), square_metres(2), 4};
    CHECK(is_near(point_load(load)->si() / 1e3, 1.01, 0.005));
    load.snow = pascals(1000);
    CHECK(is_near(point_load(load)->si() / 1e3, 1.758, 0.005));
    load.points = 0;
    CHECK(!point_load(load));
}

TEST_CASE("the heaviest foot of a full store counts where it carries more than the mean point") {
    // 1.3 is common practice, no source. 1.3·219 kg·9.81/4 = 698.2 N against 274·9.81/4 = 672.0 N.
    BearingLoad load{kilograms(274), pascals(0), square_metres(2), 4, StoreOnFeet{kilograms(219), 4}};
    CHECK(is_near(point_load(load)->si(), 1.5 * 698.2, 0.2));
    load.store->feet = 2;
    CHECK(is_near(point_load(load)->si(), 1.5 * 1396.4, 0.4));
    // With a metre of snow the mean point is the heavier again.
    load.store->feet = 4;
    load.snow = pascals(1000);
    CHECK(is_near(point_load(load)->si() / 1e3, 1.758, 0.005));
    load.store->feet = 0;
    CHECK(!point_load(load));
}

TEST_CASE("a gust presses the collector down on top of the snow") {
    // (274·9.81 + 1.3·562.5·2)/4·1.5 = 1556.4 N; the factor 1.3 is common practice, no source.
    const BearingLoad load{.set = kilograms(274), .snow = pascals(0), .collector = square_metres(2),
                           .points = 4, .store = std::nullopt,
                           .wind = *wind_pressure(metres_per_second(30))};
    CHECK(is_near(point_load(load)->si(), 1556.4, 0.2));
}

TEST_CASE("wind on the body of the store tips it about its lee feet") {
    // Drag 1.2·562.5 Pa·1.3 m·0.5 m = 438.75 N (1.2: EN 1991-1-4, from memory). Moment
    // 1.5·438.75·0.35 = 230.3 N·m less 0.9·60·9.81·0.2 = 105.9 N·m, over 0.4 m and two feet.
    const auto drag = store_drag({metres(1.3), metres(0.5), metres(0.35), metres(0.4)},
                                 *wind_pressure(metres_per_second(30)));
    CHECK(is_near(drag->si(), 438.75, 1e-9));
    Tipping store{*drag, metres(0.35), metres(0.4), kilograms(60), 4};
    CHECK(is_near(tipping_pull(store)->si(), 155.5, 0.1));
    CHECK(is_near(fixing_pull({newtons(1462.5), 4, *tipping_pull(store)})->si(), 703.9, 0.2));
    store.base = metres(0.2);
    CHECK(is_near(tipping_pull(store)->si(), 443.4, 0.1));
    store.drag = newtons(0);
    CHECK(tipping_pull(store)->si() == 0.0);
    store.base = metres(0);
    CHECK(!tipping_pull(store));
    CHECK(!store_drag({metres(0), metres(0.5), metres(0.35), metres(0.4)}, pascals(500)));
    CHECK(!fixing_pull({newtons(1000), 0, newtons(0)}));
}

TEST_CASE("ballast covers lifting and sliding, and is nothing for a heavy set in calm air") {
    // No vector is printed: the two limits are worked by hand. Flat (θ = 0): both demands are
    // 1.5·1000 N − 0.9·50 kg·9.81 = 1058.55 N over 0.9·9.81 = 119.895 kg.
    CHECK(is_near(ballast_needed({newtons(1000), kilograms(50), Angle::degrees(0)})->si(), 119.895,
                  0.001));
    // Upright (θ = 90°): 1500/0.4 − 441.45 = 3308.55 N → 374.737 kg.
    CHECK(is_near(ballast_needed({newtons(1000), kilograms(50), Angle::degrees(90)})->si(), 374.737,
                  0.001));
    CHECK(ballast_needed({newtons(0), kilograms(50), Angle::degrees(30)})->si() == 0.0);
    CHECK(!ballast_needed({newtons(not_a_number), kilograms(50), Angle::degrees(30)}));
    Conventions slippery;
    slippery.friction = 0.0;
    CHECK(!ballast_needed({newtons(1000), kilograms(50), Angle::degrees(30)}, slippery));
}

TEST_CASE("ballast also holds a tall store against tipping, and its drag against sliding") {
    Ballasted set{newtons(0), kilograms(50), Angle::degrees(0),
                  BallastTipping{newtons(1000), metres(1.5), metres(0.5)}};
    // Tipping: 1.5·1000·2·1.5/0.5 − 441.45 = 8558.55 N → 969.4 kg, over the 3308.55 N of sliding.
    CHECK(is_near(ballast_needed(set)->si(), 969.37, 0.01));
    set.store->axis = metres(0.1);
    CHECK(is_near(ballast_needed(set)->si(), 374.737, 0.001));
    set.store->base = metres(0);
    CHECK(!ballast_needed(set));
}

}  // namespace wm::plant
