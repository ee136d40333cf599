#include "plant/sun.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace std::chrono_literals;
using wm::plant::testing::is_near;
using wm::plant::testing::not_a_number;
using wm::units::AbsolutePressure;
using wm::units::Angle;
using wm::units::Temperature;

namespace {

Place at(double latitude, double longitude) {
    return {Angle::degrees(latitude), Angle::degrees(longitude)};
}

StationAir air(double millibar, double celsius) {
    return {AbsolutePressure::pascals(millibar * 100.0), Temperature::celsius(celsius)};
}

constexpr auto date(int y, unsigned m, unsigned d) {
    return std::chrono::sys_days{std::chrono::year{y} / static_cast<int>(m) / static_cast<int>(d)};
}

double in_hours(wm::units::Time time) {
    return time.si() / 3600.0;
}

}  // namespace

TEST_CASE("the sun stands where a full-precision algorithm puts it") {
    // Source: NREL/TP-560-34302 worked example (first row, quoted from memory and reproduced);
    // the others Reda & Andreas as an independent open library evaluates it.
    struct Row {
        std::chrono::sys_seconds utc;
        Place place;
        StationAir air;
        double zenith, apparent, azimuth;
    };
    const double unknown = std::numeric_limits<double>::quiet_NaN();
    for (const Row& row : {Row{date(2003, 10, 17) + 19h + 30min + 30s, at(39.74248, -105.1786),
                               air(820, 11), unknown, 50.11162, 194.34024},
                           Row{date(2026, 1, 15) + 9h, at(-33.9, 18.4), air(1013, 26), 28.547339,
                               28.538615, 70.854999},
                           Row{date(2026, 6, 21) + 5h + 30min, at(38.0, 23.7), air(1010, 22),
                               63.817947, 63.785253, 79.728801}}) {
        const auto sun = sun_position(row.utc, row.place, row.air);
        REQUIRE(sun);
        if (row.zenith == row.zenith) CHECK(is_near(sun->zenith.in_degrees(), row.zenith, 0.02));
        CHECK(is_near(sun->apparent_zenith.in_degrees(), row.apparent, 0.02));
        CHECK(is_near(sun->azimuth.in_degrees(), row.azimuth, 0.02));
    }
}

TEST_CASE("the angle of incidence on a tilted collector") {
    // Source: NREL/TP-560-34302 worked example (surface azimuth −10° from south is 170° from
    // north); second row arithmetic.
    struct Row {
        double zenith, azimuth, tilt, facing, theta;
    };
    for (const Row row :
         {Row{50.11162, 194.3402, 30, 170, 25.187}, Row{20, 10, 20, 0, 3.4163681}}) {
        const auto theta = incidence({Angle::degrees(row.zenith), Angle::degrees(row.azimuth),
                                      Angle::degrees(row.tilt), Angle::degrees(row.facing)});
        REQUIRE(theta);
        CHECK(is_near(theta->in_degrees(), row.theta, 1e-4));
    }
}

TEST_CASE("sunrise, noon and sunset") {
    // Source: NREL/TP-560-34302 worked example (rise 6:12:43, noon 11:46:05); python3-ephem 4.1.4.
    struct Row {
        std::chrono::sys_days day;
        Place place;
        double offset, rise, noon, set;
    };
    for (const Row& row :
         {Row{date(2003, 10, 17), at(39.74248, -105.1786), -7, 6.2119444, 11.768056, 17.314135},
          Row{date(2003, 10, 17), at(39.74248, -105.1786), -7, 6.2122902, 11.768045, 17.314135},
          Row{date(2025, 6, 21), at(-33.9, 18.4), 2, 7.8566801, 12.804108, 17.751587}}) {
        const auto times = sun_times(row.day, row.place, wm::units::hours(row.offset));
        REQUIRE(times);
        REQUIRE(times->rise);
        REQUIRE(times->set);
        CHECK(is_near(in_hours(*times->rise), row.rise, 0.02));
        CHECK(is_near(in_hours(times->noon), row.noon, 0.02));
        CHECK(is_near(in_hours(*times->set), row.set, 0.02));
    }
}

TEST_CASE("there is no rise and no set in polar night and polar day, but there is a noon") {
    for (const auto day : {date(2026, 12, 21), date(2026, 6, 21)}) {
        const auto times = sun_times(day, at(75.0, 20.0), wm::units::hours(1));
        REQUIRE(times);
        CHECK(!times->rise);
        CHECK(!times->set);
        CHECK(is_near(in_hours(times->noon), 12.0, 1.0));
    }
    CHECK(sun_times(date(2026, 6, 21), at(90.0, 0.0), wm::units::hours(0)));
}

TEST_CASE("at noon the sun is at its highest and due south or north") {
    for (const double latitude : {-40.0, -30.0, 30.0, 55.0}) {
        CAPTURE(latitude);
        const auto place = at(latitude, 18.4);
        const auto times = sun_times(date(2026, 3, 10), place, wm::units::hours(0));
        REQUIRE(times);
        const auto noon =
            date(2026, 3, 10) + std::chrono::seconds{static_cast<long>(times->noon.si())};
        const auto sun = sun_position(noon, place);
        REQUIRE(sun);
        const double azimuth = sun->azimuth.in_degrees();
        CHECK((latitude > 0 ? is_near(azimuth, 180.0, 0.1) : azimuth < 0.1 || azimuth > 359.9));
        CHECK(sun->zenith < sun_position(noon - 1h, place)->zenith);
        CHECK(sun->zenith < sun_position(noon + 1h, place)->zenith);
    }
}

TEST_CASE("air lifts the sun, most at the horizon, and not after it has set") {
    const auto place = at(0.0, 0.0);
    for (int minutes = 0; minutes < 24 * 60; minutes += 7) {
        const auto sun = sun_position(date(2026, 3, 20) + std::chrono::minutes{minutes}, place);
        REQUIRE(sun);
        const double lift = sun->zenith.in_degrees() - sun->apparent_zenith.in_degrees();
        CHECK(lift >= -0.002);
        CHECK(lift < 0.7);
        if (sun->zenith.in_degrees() > 91.0) CHECK(lift == 0.0);
    }
}

TEST_CASE("places, years and angles outside the equations are refused") {
    const auto when = date(2026, 6, 21) + 12h;
    CHECK(!sun_position(when, at(91.0, 0.0)));
    CHECK(!sun_position(when, at(0.0, 181.0)));
    CHECK(!sun_position(when, at(not_a_number, 0.0)));
    CHECK(!sun_position(when, at(0.0, not_a_number)));
    CHECK(!sun_position(date(1949, 6, 21) + 12h, at(0.0, 0.0)));
    CHECK(!sun_position(date(2051, 6, 21) + 12h, at(0.0, 0.0)));
    CHECK(!sun_position(when, at(0.0, 0.0), air(not_a_number, 10)));
    CHECK(!sun_position(when, at(0.0, 0.0), air(1010, 70)));
    CHECK(!sun_times(date(2026, 6, 21), at(0.0, 0.0), wm::units::hours(15)));
    CHECK(!sun_times(date(2026, 6, 21), at(-91.0, 0.0), wm::units::hours(0)));
    CHECK(!incidence(
        {Angle::degrees(not_a_number), Angle::degrees(0), Angle::degrees(0), Angle::degrees(0)}));
    CHECK(
        !incidence({Angle::degrees(0), Angle::degrees(0), Angle::degrees(181), Angle::degrees(0)}));
}
