#include "plant/clear_sky.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
SkyOnPlane sky(SkyModel model) {
    return {.geometry = {Angle::degrees(40), Angle::degrees(200), Angle::degrees(30),
                         Angle::degrees(180)},
            .beam = watts_per_square_metre(800),
            .diffuse = watts_per_square_metre(110),
            .global = watts_per_square_metre(722.836),
            .model = model};
}
}  // namespace

TEST_CASE("the one-line model agrees with an independent library and is dark at night") {
    // Source: pvlib, clearsky.haurwitz.
    CHECK(is_near(clear_global(Angle::degrees(50))->si(), 643.88298, 0.01));
    CHECK(is_near(clear_global(Angle::degrees(10))->si(), 1018.4393, 0.01));
    CHECK(clear_global(Angle::degrees(90.1))->si() == 0.0);
    CHECK(clear_global(Angle::degrees(180))->si() == 0.0);
    CHECK(!clear_global(Angle::degrees(not_a_number)));
}

TEST_CASE("the transmittance model agrees with its authors' worksheet") {
    // Source: Bird's worksheet of 2012-08-16, latitude 40, 1 January, hours 10 and 13.
    ClearAir january;
    january.pressure = AbsolutePressure::pascals(84000);
    january.outside_air = watts_per_square_metre(1414.913);
    const auto early = clear_sky(Angle::degrees(72.42742), january);
    REQUIRE(early);
    CHECK(is_within(early->beam.si(), 685.31817, 0.1));
    CHECK(is_within(early->global.si(), 282.7739, 0.1));
    CHECK(is_within(early->diffuse.si(), 75.866226, 0.2));
    CHECK(is_within(clear_sky(Angle::degrees(30))->beam.si(), 919.51956, 0.1));  // pvlib
}

TEST_CASE("the lower the sun, the weaker its beam; the sum of both parts is the whole") {
    double last = 2000.0;
    for (double z = 0.0; z <= 88.0; z += 4.0) {
        const auto now = clear_sky(Angle::degrees(z));
        REQUIRE(now);
        CHECK(now->beam.si() < last);
        CHECK(is_near(now->beam.si() * std::cos(Angle::degrees(z).in_radians()) + now->diffuse.si(),
                      now->global.si(), 1e-9));
        last = now->beam.si();
    }
    CHECK(!clear_sky(Angle::degrees(89)));
}

TEST_CASE("the tilted collector under both skies") {
    // Source: pvlib (isotropic, haydavies).
    const auto even = irradiance_on_plane(sky(SkyModel::Isotropic));
    REQUIRE(even);
    CHECK(is_near(even->sky.si(), 102.6314, 0.01));
    CHECK(is_near(even->total.si(), 884.65583, 0.01));
    const auto ring = irradiance_on_plane(sky(SkyModel::Anisotropic));
    REQUIRE(ring);
    CHECK(is_near(ring->sky.si(), 123.78997, 0.01));
    CHECK(is_near(ring->total.si(), 905.8144, 0.01));
    CHECK(is_near(isotropic_sky(watts_per_square_metre(100), Angle::degrees(40))->si(), 88.30222216,
                  1e-6));
}

TEST_CASE("a flat collector sees the horizontal sun, and one turned away no beam") {
    auto flat = sky(SkyModel::Isotropic);
    flat.geometry.tilt = Angle::degrees(0);
    CHECK(is_near(irradiance_on_plane(flat)->total.si(),
                  800 * std::cos(Angle::degrees(40).in_radians()) + 110, 1e-6));
    auto away = sky(SkyModel::Anisotropic);
    away.geometry.tilt = Angle::degrees(90);
    away.geometry.collector_azimuth = Angle::degrees(20);
    CHECK(irradiance_on_plane(away)->total.si() < 150.0);
    CHECK(irradiance_on_plane(away)->sky.si() > 0.0);
}

TEST_CASE("the sun at 1 au gives the solar constant, nearer gives more") {
    CHECK(outside_air(1.0)->si() == doctest::Approx(1361.1));
    CHECK(*outside_air(0.983) > *outside_air(1.017));
    CHECK(!outside_air(0.5));
    CHECK(!outside_air(not_a_number));
}

TEST_CASE("suns that cannot be are refused") {
    auto wrong = sky(SkyModel::Isotropic);
    wrong.beam = watts_per_square_metre(not_a_number);
    CHECK(!irradiance_on_plane(wrong));
    wrong = sky(SkyModel::Isotropic);
    wrong.ground_reflection = 1.1;
    CHECK(!irradiance_on_plane(wrong));
    ClearAir thick;
    thick.water = metres(1);
    CHECK(!clear_sky(Angle::degrees(30), thick));
}
