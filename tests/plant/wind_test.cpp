#include "plant/wind.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;
using namespace wm::units;

namespace {

Anchoring lifted() {
    return {.wind = pascals(980.8),
            .area = square_metres(2.2),
            .mass = kilograms(91),
            .roof_pitch = Angle::degrees(25),
            .anchor_tension = newtons(1200),
            .anchor_shear = newtons(1500)};
}

FilledSet full() {
    return {.tank = kilograms(45),
            .store = litres(150),
            .fill = Temperature::celsius(20),
            .collector = kilograms(38),
            .loop_fluid = kilograms(1.6),
            .frame = kilograms(8),
            .plan_area = square_metres(3.2),
            .feet = 6};
}
}  // namespace

TEST_CASE("a gust of 40 m/s presses with 981 Pa") {
    // Arithmetic: 0.613 v².
    CHECK(is_within(gust_pressure(metres_per_second(40))->si(), 980.8, 1e-7));
}

TEST_CASE("the peak form agrees with its figure and its arithmetic") {
    // Source: EN 1991-1-4 Figure 4.2, read off, from memory.
    CHECK(is_within(*exposure(metres(10), Terrain::OpenCountry), 2.35, 1.0));
    // Arithmetic of eqs (4.3) to (4.8).
    const auto wind = peak_wind(metres_per_second(24), metres(10), Terrain::OpenCountry);
    REQUIRE(wind);
    CHECK(is_within(wind->mean_speed.si(), 24.16032719, 1e-4));
    CHECK(is_within(wind->turbulence, 0.1887391658, 1e-4));
    CHECK(is_within(wind->peak_pressure.si(), 846.8244087, 1e-4));
    CHECK(is_within(wind->exposure, 2.352290024, 1e-4));
}

TEST_CASE(
    "rougher ground slows the wind, height quickens it, below the least height nothing changes") {
    Terrain last = Terrain::Sea;
    for (const auto terrain :
         {Terrain::Lakeside, Terrain::OpenCountry, Terrain::Suburb, Terrain::City}) {
        CHECK(*exposure(metres(12), terrain) < *exposure(metres(12), last));
        CHECK(*exposure(metres(20), terrain) > *exposure(metres(12), terrain));
        last = terrain;
    }
    CHECK(*exposure(metres(1), Terrain::Suburb) == *exposure(metres(5), Terrain::Suburb));
}

TEST_CASE("anchors for a light and for a heavy set") {
    // Arithmetic of the equation; partial factors EN 1990:2002 Table A1.2.
    const auto light = anchor_demand(lifted());
    REQUIRE(light);
    CHECK(is_within(light->across_roof.si(), 4127.045637, 1e-4));
    CHECK(is_within(light->along_roof.si(), 509.1480629, 1e-4));
    CHECK(light->anchors == 4);
    auto set = lifted();
    set.suction_factor = 1.0;
    set.wind = pascals(500);
    set.area = square_metres(1);
    set.mass = kilograms(240);
    set.roof_pitch = Angle::degrees(30);
    const auto heavy = anchor_demand(set);
    REQUIRE(heavy);
    CHECK(is_within(heavy->across_roof.si(), -1084.446534, 1e-4));
    CHECK(is_within(heavy->along_roof.si(), 1588.6773, 1e-4));
    CHECK(heavy->anchors == 4);
    CHECK(heavy->interaction < 1.0);
}

TEST_CASE("one more newton than n anchors take asks for another anchor") {
    auto set = lifted();
    set.mass = kilograms(0);
    set.wind_factor = 1.0;
    set.suction_factor = 1.0;
    set.area = square_metres(1);
    set.wind = pascals(6000);
    CHECK(anchor_demand(set)->anchors == 5);
    set.wind = pascals(6001);
    CHECK(anchor_demand(set)->anchors == 6);
}

TEST_CASE("weight on the roof with the store full") {
    // Source: density from python3-iapws 1.5.2 (IF97), the rest arithmetic.
    const auto load = roof_load(full());
    REQUIRE(load);
    CHECK(is_near(load->mass.si(), 242.33082, 0.05));
    CHECK(is_within(load->pressure.si(), 742.64174, 0.1));
    CHECK(is_within(load->foot.si(), 514.89827, 0.1));
    const auto other = roof_load({.tank = kilograms(58),
                                  .store = litres(180),
                                  .fill = Temperature::celsius(12),
                                  .collector = kilograms(40),
                                  .loop_fluid = kilograms(1.9),
                                  .frame = kilograms(11),
                                  .plan_area = square_metres(3.5),
                                  .feet = 6});
    REQUIRE(other);
    CHECK(is_near(other->mass.si(), 290.80972, 0.05));
    CHECK(is_within(other->pressure.si(), 814.81976, 0.1));
    CHECK(is_within(other->foot.si(), 617.90498, 0.1));
}

TEST_CASE("wind, anchors and loads that cannot be are refused") {
    CHECK(!gust_pressure(metres_per_second(-1)));
    CHECK(!gust_pressure(metres_per_second(not_a_number)));
    CHECK(!peak_wind(metres_per_second(24), metres(201), Terrain::Sea));
    CHECK(!peak_wind(metres_per_second(not_a_number), metres(10), Terrain::Sea));
    CHECK(!exposure(metres(not_a_number), Terrain::Sea));
    auto set = lifted();
    set.anchor_tension = newtons(0);
    CHECK(!anchor_demand(set));
    set = lifted();
    set.mass = kilograms(not_a_number);
    CHECK(!anchor_demand(set));
    set = lifted();
    set.anchor_shear = newtons(1e-3);
    CHECK(anchor_demand(set).error().what ==
          "The demand is more than a thousand of these anchors.");
    auto load = full();
    load.plan_area = square_metres(0);
    CHECK(!roof_load(load));
    load = full();
    load.feet = 0;
    CHECK(!roof_load(load));
    load = full();
    load.fill = Temperature::celsius(-5);
    CHECK(!roof_load(load));
}
