#include "plant/expected_year.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <numbers>

#include "plant/clear_sky.hpp"
#include "plant/inputs.hpp"
#include "plant/yield.hpp"

namespace wm::plant {

namespace {

constexpr std::array days_of_month{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
/// The day on which the sun shines as on the mean of its month.
constexpr std::array mean_day{17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10};
constexpr int year_of_sun = 2026;  // any: the sun of a day hardly changes from year to year
constexpr double step_s = 900.0;
constexpr double lowest_sun_deg = 88.0;  // where the clear sky ends
constexpr double overcast_share = 1.0 / 3.0;
constexpr double angle_ratio = 0.95;

double day_of_year(int month) {
    double day = mean_day[static_cast<std::size_t>(month - 1)];
    for (int before = 1; before < month; ++before)
        day += days_of_month[static_cast<std::size_t>(before - 1)];
    return day;
}

/// −1 in the middle of January, +1 half a year later.
double season(double day) {
    return -std::cos(2.0 * std::numbers::pi * (day - 15.0) / 365.0);
}

/// Which part of the direct sun is counted.
enum class Direct { OverHorizon, All, None };

Result<units::Irradiance> at_moment(const SkyOfPlace& sky, std::chrono::sys_seconds utc, Direct direct) {
    // The sum of a day does not depend on the longitude.
    const auto sun = sun_position(utc, {sky.latitude, units::Angle::degrees(0.0)});
    if (!sun) return tl::unexpected(sun.error());
    if (sun->apparent_zenith.in_degrees() > lowest_sun_deg) return units::watts_per_square_metre(0.0);
    ClearAir air;
    air.pressure = sky.pressure;
    const auto clear = clear_sky(sun->apparent_zenith, air);
    if (!clear) return tl::unexpected(clear.error());
    const double overcast = (1.0 - sky.sunshine) * overcast_share;
    const bool counts = direct == Direct::All || (direct == Direct::OverHorizon && !is_hidden(*sun, sky.horizon));
    const auto beam = (counts ? sky.sunshine : 0.0) * clear->beam;
    const auto diffuse = sky.sunshine * clear->diffuse + overcast * clear->global;
    const auto plane = irradiance_on_plane(
        {.geometry = {sun->apparent_zenith, sun->azimuth, sky.tilt, sky.azimuth},
         .beam = beam,
         .diffuse = diffuse,
         .global = (sky.sunshine + overcast) * clear->global,
         .model = SkyModel::Isotropic});
    if (!plane) return tl::unexpected(plane.error());
    return plane->total;
}

Result<units::Irradiation> sum_of_day(const SkyOfPlace& sky, int month, Direct direct) {
    Inputs inputs{"sun of a mean day"};
    inputs.within("latitude", sky.latitude.in_degrees(), -66.0, 66.0, "°")
        .within("tilt", sky.tilt.in_degrees(), 0.0, 90.0, "°")
        .within("azimuth", sky.azimuth.in_degrees(), 0.0, 360.0, "°")
        .within("share of bright sun", sky.sunshine, 0.0, 1.0, "")
        .within("month", month, 1, 12, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    namespace date = std::chrono;
    const auto midnight = date::sys_days{
        date::year{year_of_sun} / date::month{static_cast<unsigned>(month)} /
        date::day{static_cast<unsigned>(mean_day[static_cast<std::size_t>(month - 1)])}};
    double sum = 0.0;
    for (double at = step_s / 2.0; at < 86400.0; at += step_s) {
        const auto moment = date::sys_seconds{midnight} + date::seconds{static_cast<int>(at)};
        const auto now = at_moment(sky, moment, direct);
        if (!now) return tl::unexpected(now.error());
        sum += now->si() * step_s;
    }
    return units::Irradiation::from_si(sum);
}

}  // namespace

Result<units::Irradiation> mean_day_on_plane(const SkyOfPlace& sky, int month) {
    return sum_of_day(sky, month, Direct::OverHorizon);
}

Result<double> shaded_share(const SkyOfPlace& sky, int month) {
    SkyOfPlace clear = sky;
    clear.sunshine = 1.0;
    const auto open = sum_of_day(clear, month, Direct::All);
    if (!open) return tl::unexpected(open.error());
    const auto left = sum_of_day(clear, month, Direct::OverHorizon);
    if (!left) return tl::unexpected(left.error());
    const auto without = sum_of_day(clear, month, Direct::None);
    if (!without) return tl::unexpected(without.error());
    const double direct = open->si() - without->si();
    if (direct <= 1e-6 * open->si()) return 0.0;
    return std::clamp((open->si() - left->si()) / direct, 0.0, 1.0);
}

units::Temperature mean_air(const AirOfPlace& air, int month) {
    const double mean = (air.january.in_celsius() + air.july.in_celsius()) / 2.0;
    const double half = (air.july.in_celsius() - air.january.in_celsius()) / 2.0;
    return units::Temperature::celsius(mean + half * season(day_of_year(month)));
}

units::Temperature mains_water(const AirOfPlace& air, int month) {
    const double mean_f =
        32.0 + 1.8 * (air.january.in_celsius() + air.july.in_celsius()) / 2.0;
    const double half_f = 1.8 * (air.july.in_celsius() - air.january.in_celsius()) / 2.0;
    const double damping = 0.4 + 0.01 * (mean_f - 44.0);
    const double delay_days = 35.0 - (mean_f - 44.0);
    const double water_f =
        mean_f + 6.0 + damping * half_f * season(day_of_year(month) - delay_days);
    return units::Temperature::celsius(std::max((water_f - 32.0) / 1.8, 1.0));
}

Result<ExpectedYear> expected_year(const HouseInSun& house) {
    ExpectedYear year;
    for (int number = 1; number <= 12; ++number) {
        const int days = days_of_month[static_cast<std::size_t>(number - 1)];
        const auto air = mean_air(house.air, number);
        const auto mains = mains_water(house.air, number);
        const auto day = mean_day_on_plane(house.sky, number);
        if (!day) return tl::unexpected(day.error());
        const auto load = water_load({house.draw, house.set_point, mains}, days);
        if (!load) return tl::unexpected(load.error());
        const auto factor = water_heating_factor(house.set_point, mains, air);
        if (!factor) return tl::unexpected(factor.error());
        MonthOfSun sun{.collector = house.collector,
                       .loss_product = house.loss_product,
                       .optical_product = house.optical_product,
                       .exchanger_ratio = house.exchanger_ratio,
                       .angle_ratio = angle_ratio,
                       .mean_air = air,
                       .day = *day,
                       .days = days,
                       .load = *load,
                       .store_per_square_metre =
                           units::litres(house.store.si() * 1e3 / house.collector.si()),
                       .water_heating_factor = *factor};
        auto fraction = solar_fraction(sun);
        for (int less = 0; less < 12 && !fraction; ++less) {
            sun.collector = 0.75 * sun.collector;
            fraction = solar_fraction(sun);
        }
        if (!fraction) return tl::unexpected(fraction.error());
        year.push_back({.days = days,
                        .day_on_plane = *day,
                        .air = air,
                        .mains = mains,
                        .load = *load,
                        .solar = fraction->fraction * *load});
    }
    return year;
}

}  // namespace wm::plant
