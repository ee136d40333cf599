#include "plant/derived.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "plant/testing.hpp"
#include "plant/water.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::not_a_number;

namespace {

const auto nan_m = metres(not_a_number);

double kpa(const wm::Result<GaugePressure>& pressure) {
    REQUIRE(pressure);
    return pressure->in_kilopascals();
}

TestedZone zone() {
    return {.relief = GaugePressure::kilopascals(600),
            .relief_above_gauge = metres(6),
            .tank_most = GaugePressure::kilopascals(1000),
            .collector_most = std::nullopt,
            .heater_relief = GaugePressure::kilopascals(700),
            .heater_most = std::nullopt};
}

}  // namespace

// The vectors are those printed beside the formulas of the derived values, to their last digit.

TEST_CASE("air pressure falls with altitude as in the standard atmosphere") {
    for (const auto& [altitude, expected] : {std::pair{0.0, 101.3}, {1500.0, 84.6}, {2310.0, 76.5}})
        CHECK(is_near(station_pressure(metres(altitude))->in_kilopascals(), expected, 0.05));
    CHECK(!station_pressure(nan_m));
    CHECK(!station_pressure(metres(12000)));
}

TEST_CASE("the boiling point falls by 1 K in 300 m, within 0.1 K of the vapour curve") {
    CHECK(is_near(boiling_point_at(metres(2310))->in_celsius(), 92.3, 0.05));
    CHECK(is_near(boiling_point_at(metres(4000))->in_celsius(), 86.7, 0.05));
    for (double altitude = 0.0; altitude <= 4000.0; altitude += 250.0) {
        CAPTURE(altitude);
        const auto curve = boiling_temperature(*station_pressure(metres(altitude)));
        REQUIRE(curve);
        CHECK(is_near(boiling_point_at(metres(altitude))->in_celsius(), curve->in_celsius(), 0.1));
    }
    CHECK(!boiling_point_at(nan_m));
}

TEST_CASE("bearings turn through north") {
    CHECK(is_near(true_bearing({Angle::degrees(358), Angle::degrees(5)})->in_degrees(), 3, 1e-9));
    CHECK(is_near(true_bearing({Angle::degrees(3), Angle::degrees(-5)})->in_degrees(), 358, 1e-9));
    CHECK(is_near(bearing_gap(Angle::degrees(355), Angle::degrees(5))->in_degrees(), 10, 1e-9));
    CHECK(is_near(bearing_gap(Angle::degrees(0), Angle::degrees(180))->in_degrees(), 180, 1e-9));
    CHECK(!bearing_gap(Angle::degrees(not_a_number), Angle::degrees(0)));
    CHECK(!true_bearing({Angle::degrees(10), Angle::degrees(not_a_number)}));
}

TEST_CASE("the gap between bearings is symmetric, from 0 to 180, and blind to a full turn") {
    for (double one = 0.0; one < 360.0; one += 17.0)
        for (double other = 0.0; other < 360.0; other += 23.0) {
            const double gap =
                bearing_gap(Angle::degrees(one), Angle::degrees(other))->in_degrees();
            CHECK(is_near(
                gap, bearing_gap(Angle::degrees(other), Angle::degrees(one))->in_degrees(), 1e-9));
            CHECK(is_near(
                gap, bearing_gap(Angle::degrees(one - 360), Angle::degrees(other))->in_degrees(),
                1e-9));
            CHECK(gap >= 0.0);
            CHECK(gap <= 180.0);
        }
}

TEST_CASE("a collector faces the equator at latitude plus 5°, kept between 20° and 50°") {
    CHECK(bearing_to_equator(Angle::degrees(29.4))->in_degrees() == doctest::Approx(180));
    CHECK(bearing_to_equator(Angle::degrees(-18))->in_degrees() == 0.0);
    CHECK(!bearing_to_equator(Angle::degrees(not_a_number)));
    for (const auto& [latitude, tilt] :
         {std::pair{29.4, 34.4}, {5.0, 20.0}, {-29.4, 34.4}, {60.0, 50.0}})
        CHECK(is_near(best_tilt(Angle::degrees(latitude))->in_degrees(), tilt, 1e-9));
    CHECK(!best_tilt(Angle::degrees(not_a_number)));
}

TEST_CASE("the full set weighs the sum of its parts, the frame 15 kg unless known") {
    SetParts parts{.tank_dry = kilograms(60),
                   .tank = litres(150),
                   .jacket = litres(9),
                   .collector = kilograms(38),
                   .collector_content = litres(2),
                   .frame = std::nullopt};
    CHECK(is_near(set_mass(parts)->si(), 274, 1e-9));
    parts.frame = kilograms(20);
    CHECK(is_near(set_mass(parts)->si(), 279, 1e-9));
    parts.tank = litres(not_a_number);
    CHECK(!set_mass(parts));
}

TEST_CASE("wind pressure, uplift, fixings and proof load") {
    CHECK(is_near(wind_pressure(metres_per_second(35))->si() / 1e3, 0.77, 0.005));
    CHECK(is_near(wind_pressure(metres_per_second(40))->si() / 1e3, 1.00, 0.005));
    const auto lift = uplift(*wind_pressure(metres_per_second(40)), square_metres(2));
    CHECK(is_near(lift->si() / 1e3, 2.6, 1e-9));
    CHECK(*fixings_needed({newtons(2600), newtons(800)}) == 5);
    CHECK(*fixings_needed({newtons(100), newtons(800)}) == 4);
    CHECK(*fixings_needed({newtons(3200), newtons(800)}) == 6);
    CHECK(is_near(proof_pull(newtons(2600), 5)->si() / 1e3, 0.65, 1e-9));
    CHECK(!wind_pressure(metres_per_second(not_a_number)));
    CHECK(!uplift(pascals(1000), square_metres(0)));
    CHECK(!fixings_needed({newtons(2600), newtons(0)}));
    CHECK(!fixings_needed({newtons(not_a_number), newtons(800)}));
    CHECK(!proof_pull(newtons(2600), 0));
}

TEST_CASE("content of pipes with a wall of 1 mm, and of a loop") {
    for (const auto& [outside, content] :
         {std::pair{12.0, 0.079}, {15.0, 0.133}, {18.0, 0.201}, {22.0, 0.314}, {28.0, 0.531}})
        CHECK(is_near(pipe_content(millimetres(outside))->si() * 1e3, content, 0.0005));
    const LoopParts parts{litres(2), litres(9), metres(1.2), millimetres(22)};
    CHECK(is_near(loop_volume(parts)->si() * 1e3, 11.4, 0.05));
    CHECK(!pipe_content(millimetres(2)));
    CHECK(!loop_volume({litres(2), litres(9), nan_m, millimetres(22)}));
}

TEST_CASE("an air of −9 °C needs −14 °C, and that is 35 % glycol") {
    const auto needed = freezing_point_needed(Temperature::celsius(-9));
    REQUIRE(needed);
    CHECK(is_near(needed->in_celsius(), -14, 1e-9));
    CHECK(*glycol_percent(*needed) == 35.0);
    CHECK(is_near(glycol_concentrate(litres(11.4), 35)->si() * 1e3, 4.5, 0.05));
    CHECK(is_near(glycol_premix(litres(11.4))->si() * 1e3, 12.4, 1e-9));
}

TEST_CASE("glycol is never weaker than 30 %, and beyond 50 % there is no indirect set") {
    CHECK(*glycol_percent(Temperature::celsius(5)) == 30.0);
    CHECK(*glycol_percent(Temperature::celsius(-31.3)) == 50.0);
    const auto too_cold = glycol_percent(Temperature::celsius(-31.4));
    REQUIRE(!too_cold);
    CHECK(too_cold.error().what == "No mixture up to 50 % stays liquid down to -33.4 °C.");
    CHECK(too_cold.error().kind == wm::ProblemKind::Refused);
    CHECK(!glycol_percent(Temperature::celsius(not_a_number)));
    CHECK(!freezing_point_needed(Temperature::celsius(not_a_number)));
    CHECK(!glycol_concentrate(litres(0), 35));
    CHECK(!glycol_premix(litres(not_a_number)));
}

TEST_CASE("the frost margin is a setting") {
    Conventions bold;
    bold.frost_margin = kelvins(2);
    CHECK(is_near(freezing_point_needed(Temperature::celsius(-9), bold)->in_celsius(), -11, 1e-9));
}

TEST_CASE(
    "the test pressure is 0.8 of the relief setting plus the column, kept below every limit") {
    CHECK(is_near(kpa(test_pressure(zone())), 539, 0.5));
    struct Row {
        TestedZone zone;
        double kpa;
    };
    std::vector<Row> rows{{zone(), 480}, {zone(), 500}, {zone(), 450}, {zone(), 400}};
    rows[0].zone.heater_relief = GaugePressure::kilopascals(600);
    rows[1].zone.tank_most = GaugePressure::kilopascals(500);
    rows[2].zone.heater_most = GaugePressure::kilopascals(450);
    rows[3].zone.collector_most = GaugePressure::kilopascals(400);
    for (const auto& row : rows) CHECK(is_near(kpa(test_pressure(row.zone)), row.kpa, 1e-9));
    auto vented = zone();
    vented.heater_most = GaugePressure::kilopascals(0);
    CHECK(!test_pressure(vented));
    auto above = zone();
    above.relief_above_gauge = metres(-60);
    CHECK(test_pressure(above).error().what == "The gauge would show no pressure at all.");
    auto unknown = zone();
    unknown.relief = GaugePressure::kilopascals(not_a_number);
    CHECK(!test_pressure(unknown));
}

TEST_CASE("the supply stays at 0.8 of the lowest relief setting") {
    const auto of = [](double value) { return GaugePressure::kilopascals(value); };
    CHECK(is_near(kpa(highest_supply_pressure(of(600), of(700))), 480, 1e-9));
    CHECK(is_near(kpa(highest_supply_pressure(of(600), of(500))), 400, 1e-9));
    CHECK(is_near(kpa(highest_supply_pressure(of(600), std::nullopt)), 480, 1e-9));
    CHECK(!highest_supply_pressure(of(not_a_number), std::nullopt));
    CHECK(!highest_supply_pressure(of(600), of(0)));
}

TEST_CASE("expansion, growth and discharge length") {
    // Densities of Kell 1975 (from memory): 999.1, 974.8 and 961.9 kg/m³ at 15, 75 and 95 °C.
    const auto at = [](double celsius) { return Temperature::celsius(celsius); };
    CHECK(is_near(heating_expansion(litres(150), litres(150), at(75))->si() * 1e3, 7.5, 0.05));
    CHECK(is_near(heating_expansion(litres(150), litres(150), at(95))->si() * 1e3, 11.6, 0.05));
    CHECK(!heating_expansion(litres(150), litres(150), at(10)));
    CHECK(is_near(pipe_growth(metres(10), kelvins(80))->si() * 1e3, 13.6, 1e-9));
    CHECK(is_near(discharge_length(metres(5), 4, DischargeSize::Od22)->si(), 8.2, 1e-9));
    CHECK(is_near(discharge_length(metres(5), 4, DischargeSize::Od28)->si(), 9.0, 1e-9));
    CHECK(!heating_expansion(litres(not_a_number), litres(0), at(75)));
    CHECK(!pipe_growth(nan_m, kelvins(80)));
    CHECK(!discharge_length(metres(5), -1, DischargeSize::Od22));
}

TEST_CASE("expected warming across the loop, in an hour, in a day, and the cooling of a night") {
    CHECK(is_near(expected_loop_rise(watts_per_square_metre(400))->si(), 7.1, 0.05));
    CHECK(is_near(hour_rise(watts_per_square_metre(800), square_metres(2), litres(150))->si(), 4.6,
                  0.05));
    CHECK(is_near(day_rise(Irradiation::from_si(20e6), square_metres(2), litres(150))->si(), 28.7,
                  0.05));
    const Night night{Temperature::celsius(60), Temperature::celsius(5), Conductance::from_si(2),
                      hours(12), litres(150)};
    CHECK(is_near(night_drop(night)->si(), 7.1, 0.05));
    CHECK(!expected_loop_rise(watts_per_square_metre(not_a_number)));
    CHECK(!hour_rise(watts_per_square_metre(800), square_metres(2), litres(0)));
    CHECK(!day_rise(Irradiation::from_si(20e6), square_metres(not_a_number), litres(150)));
    CHECK(!night_drop({Temperature::celsius(60), Temperature::celsius(5), Conductance::from_si(0),
                       hours(12), litres(150)}));
}

TEST_CASE("a store never cools below the air in a night") {
    for (double h = 0.0; h < 2000.0; h += 50.0) {
        const Night night{Temperature::celsius(60), Temperature::celsius(5),
                          Conductance::from_si(2), hours(h), litres(150)};
        const auto drop = night_drop(night);
        REQUIRE(drop);
        CHECK(drop->si() >= 0.0);
        CHECK(drop->si() <= 55.0);
    }
}

TEST_CASE("an element of 2000 W at 230 V has 26.45 Ω") {
    CHECK(is_near(element_resistance(volts(230), watts(2000))->si(), 26.45, 1e-9));
    CHECK(!element_resistance(volts(230), watts(0)));
    CHECK(!element_resistance(volts(not_a_number), watts(2000)));
}

TEST_CASE("the outlet stays at 50 °C, at 45 °C where someone vulnerable lives") {
    CHECK(outlet_most(Household::Usual).in_celsius() == doctest::Approx(50));
    CHECK(outlet_most(Household::Vulnerable).in_celsius() == doctest::Approx(45));
}

TEST_CASE("default torques grow with the bolt") {
    // Source: VDI 2230 method with ISO 3506-1 class 70, from memory.
    const double expected[] = {5.5, 13.5, 27, 47};
    int at = 0;
    for (const auto size : {BoltSize::M6, BoltSize::M8, BoltSize::M10, BoltSize::M12})
        CHECK(is_near(default_anchor_torque(size).si(), expected[at++], 1e-9));
}

template <class A, class B>
concept gives_uplift = requires(A a, B b) {
    uplift(a, b);
};
static_assert(gives_uplift<PressureDifference, Area>);
static_assert(!gives_uplift<Area, PressureDifference>, "area and pressure cannot change places");
static_assert(!gives_uplift<double, double>, "bare numbers are no inputs");

template <class A, class B, class C>
concept gives_day_rise = requires(A a, B b, C c) {
    day_rise(a, b, c);
};
static_assert(gives_day_rise<Irradiation, Area, Volume>);
static_assert(!gives_day_rise<Irradiance, Area, Volume>, "a day's sun is no irradiance");
