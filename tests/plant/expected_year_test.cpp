#include "plant/expected_year.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace wm;
using namespace wm::plant;
using units::Angle;
using units::Temperature;

namespace {

SkyOfPlace sky_at(double latitude, double tilt, double azimuth, double sunshine = 0.6) {
    return {.latitude = Angle::degrees(latitude),
            .tilt = Angle::degrees(tilt),
            .azimuth = Angle::degrees(azimuth),
            .pressure = units::AbsolutePressure::kilopascals(101.325),
            .sunshine = sunshine};
}

double day_mj(const SkyOfPlace& sky, int month) {
    const auto day = mean_day_on_plane(sky, month);
    REQUIRE(day);
    return day->si() / 1e6;
}

double year_mj(const SkyOfPlace& sky) {
    double sum = 0.0;
    for (int month = 1; month <= 12; ++month) sum += day_mj(sky, month) * 365.0 / 12.0;
    return sum;
}

HouseInSun house() {
    return {.sky = sky_at(29.4, 35.0, 180.0),
            .air = {Temperature::celsius(6.0), Temperature::celsius(22.0)},
            .collector = units::square_metres(2.0),
            .loss_product = units::Quantity<0, 1, -3, -1>::from_si(4.3),
            .optical_product = 0.74,
            .exchanger_ratio = 0.97,
            .store = units::litres(150.0),
            .draw = units::VolumeFlow::from_si(0.18 / 86400.0),
            .set_point = Temperature::celsius(60.0)};
}

double solar_kwh(const HouseInSun& of) {
    const auto year = expected_year(of);
    REQUIRE_MESSAGE(year, (year ? "" : told(year.error())));
    REQUIRE(year->size() == 12);
    double sum = 0.0;
    for (const auto& month : *year) {
        CHECK(month.solar.si() >= 0.0);
        CHECK(month.solar.si() <= month.load.si());
        sum += month.solar.si() / 3.6e6;
    }
    return sum;
}

}  // namespace

TEST_CASE("the sun on the level agrees with Angstrom's law where its example was worked") {
    // Source: FAO Irrigation and Drainage Paper 56 (1998), example 10: Rio de Janeiro, 22.9° south,
    // May, 220 hours of sun in 31 days of 10.9 hours, gives 14.5 MJ/m² a day. The clear sky of ours
    // is computed from the air, theirs is 0.75 of what is outside it: 8 % apart are allowed.
    CHECK(std::abs(day_mj(sky_at(-22.9, 0.0, 0.0, 220.0 / 31.0 / 10.9), 5) / 14.456 - 1.0) < 0.08);
}

TEST_CASE("without any bright sun a third of the clear day is left, on the level") {
    // Source: as above, eq. 35 over eq. 36: 0.25 / 0.75.
    for (const int month : {1, 6}) {
        const double clear = day_mj(sky_at(45.0, 0.0, 180.0, 1.0), month);
        CHECK(std::abs(day_mj(sky_at(45.0, 0.0, 180.0, 0.0), month) / clear - 1.0 / 3.0) < 1e-9);
    }
}

TEST_CASE("east and west, and the two hemispheres, see the same sun") {
    for (const int month : {3, 6, 12}) {
        const double east = day_mj(sky_at(30.0, 40.0, 120.0), month);
        CHECK(std::abs(day_mj(sky_at(30.0, 40.0, 240.0), month) / east - 1.0) < 0.02);
    }
    // June in the south is December in the north, but for 7 % of the distance of the sun.
    const double north = day_mj(sky_at(35.0, 40.0, 180.0), 12);
    const double south = day_mj(sky_at(-35.0, 40.0, 0.0), 6);
    CHECK(std::abs(south / north - 1.0) < 0.09);
    CHECK(south < north);
}

TEST_CASE("a collector toward the equator gains in winter and turned away loses over the year") {
    CHECK(day_mj(sky_at(40.0, 50.0, 180.0), 12) > 1.4 * day_mj(sky_at(40.0, 0.0, 180.0), 12));
    CHECK(year_mj(sky_at(40.0, 35.0, 180.0)) > year_mj(sky_at(40.0, 35.0, 0.0)));
    CHECK(year_mj(sky_at(40.0, 35.0, 180.0)) > year_mj(sky_at(40.0, 85.0, 180.0)));
}

TEST_CASE("a year of sun is what maps of the sun show, roughly") {
    // Source: yearly sums on the level in maps of solar resource, from memory: about 1000 to 1150
    // kWh/m² at 52° north with a share of sun near 0.37, about 1900 to 2200 at 30° with near 0.72.
    CHECK(year_mj(sky_at(52.0, 0.0, 180.0, 0.37)) / 3.6 > 900.0);
    CHECK(year_mj(sky_at(52.0, 0.0, 180.0, 0.37)) / 3.6 < 1200.0);
    CHECK(year_mj(sky_at(30.0, 0.0, 180.0, 0.72)) / 3.6 > 1750.0);
    CHECK(year_mj(sky_at(30.0, 0.0, 180.0, 0.72)) / 3.6 < 2300.0);
}

TEST_CASE("air and mains follow the year, the mains later and less") {
    const AirOfPlace air{Temperature::celsius(2.0), Temperature::celsius(20.0)};
    CHECK(std::abs(mean_air(air, 1).in_celsius() - 2.0) < 0.1);
    CHECK(std::abs(mean_air(air, 7).in_celsius() - 20.0) < 0.1);
    double lowest = 99.0, highest = -99.0, sum = 0.0;
    for (int month = 1; month <= 12; ++month) {
        const double water = mains_water(air, month).in_celsius();
        lowest = std::min(lowest, water);
        highest = std::max(highest, water);
        sum += water / 12.0;
    }
    // Source: Burch & Christensen 2007 (from memory): the mean is that of the air and 6 °F.
    CHECK(std::abs(sum - (11.0 + 10.0 / 3.0)) < 0.3);
    CHECK(highest - lowest < 18.0);
    // The mains change by 5 to 15 K over the year. Source: Duffie & Beckman ch. 20.
    CHECK(highest - lowest > 5.0);
    CHECK(mains_water(air, 8).in_celsius() > mains_water(air, 5).in_celsius());
    CHECK(mains_water({Temperature::celsius(-30.0), Temperature::celsius(0.0)}, 2).in_celsius() >= 1.0);
}

TEST_CASE("more sun, more glass and a better place never bring less") {
    const double plain = solar_kwh(house());
    HouseInSun other = house();
    other.sky.sunshine = 0.8;
    CHECK(solar_kwh(other) > plain);
    other = house();
    other.collector = units::square_metres(3.0);
    CHECK(solar_kwh(other) > plain);
    other = house();
    other.sky.azimuth = Angle::degrees(0.0);
    CHECK(solar_kwh(other) < plain);
    other = house();
    other.loss_product = units::Quantity<0, 1, -3, -1>::from_si(7.0);
    CHECK(solar_kwh(other) < plain);
}

TEST_CASE("a small household is not refused, and gets no more than it draws") {
    HouseInSun one = house();
    one.draw = units::VolumeFlow::from_si(0.03 / 86400.0);
    CHECK(solar_kwh(one) < solar_kwh(house()));
    CHECK(solar_kwh(one) > 0.0);
}

TEST_CASE("a place or a collector that the methods do not cover is refused in words") {
    CHECK_FALSE(mean_day_on_plane(sky_at(70.0, 30.0, 180.0), 1));
    CHECK_FALSE(mean_day_on_plane(sky_at(30.0, 30.0, 180.0), 13));
    CHECK_FALSE(mean_day_on_plane(sky_at(30.0, 30.0, 180.0, 1.2), 1));
    HouseInSun poor = house();
    poor.optical_product = 0.3;
    CHECK_FALSE(expected_year(poor));
}
