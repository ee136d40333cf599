#include "plant/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::Angle;

namespace {

constexpr double radian = std::numbers::pi / 180.0;
constexpr double rise_elevation_deg = -0.8333;
constexpr double turn_per_hour_deg = 15.041;
constexpr double unix_epoch_jd = 2440587.5;
constexpr double almanac_epoch_jd = 2451545.0;

double sin_deg(double degrees) {
    return std::sin(degrees * radian);
}
double cos_deg(double degrees) {
    return std::cos(degrees * radian);
}

double turned(double degrees) {
    const double rest = std::fmod(degrees, 360.0);
    return rest < 0.0 ? rest + 360.0 : rest;
}

double half_turned(double degrees) {
    const double full = turned(degrees);
    return full > 180.0 ? full - 360.0 : full;
}

// Declination and hour angle in radian and degrees; the symbols are those of the almanac.
struct Apparent {
    double declination;
    double hour_angle_deg;
    double distance_au;
};

Apparent apparent_sun(double seconds_since_1970, double longitude_deg) {
    const double days = seconds_since_1970 / 86400.0;
    const double n = days + unix_epoch_jd - almanac_epoch_jd;
    const double ut = (days - std::floor(days)) * 24.0;
    const double mean_longitude = 280.460 + 0.9856474 * n;
    const double g = turned(357.528 + 0.9856003 * n);
    const double lambda = turned(mean_longitude + 1.915 * sin_deg(g) + 0.020 * sin_deg(2.0 * g));
    const double epsilon = 23.439 - 4e-7 * n;
    const double alpha = std::atan2(cos_deg(epsilon) * sin_deg(lambda), cos_deg(lambda)) / radian;
    const double sidereal_h = 6.697375 + 0.0657098242 * n + ut;
    return {.declination = std::asin(sin_deg(epsilon) * sin_deg(lambda)),
            .hour_angle_deg = half_turned(15.0 * sidereal_h + longitude_deg - alpha),
            .distance_au = 1.00014 - 0.01671 * cos_deg(g) - 0.00014 * cos_deg(2.0 * g)};
}

double refraction_deg(double elevation_deg, const StationAir& air) {
    if (elevation_deg <= rise_elevation_deg) return 0.0;
    const double millibars = air.pressure.in_pascals() / 100.0;
    const double celsius = air.temperature.in_celsius();
    return millibars / 1010.0 * (283.0 / (273.0 + celsius)) * 1.02 /
           (60.0 * std::tan((elevation_deg + 10.3 / (elevation_deg + 5.11)) * radian));
}

Inputs& refuse_elsewhere(Inputs& inputs, const Place& place) {
    return inputs.within("latitude", place.latitude.in_degrees(), -90.0, 90.0, "°")
        .within("longitude", place.longitude.in_degrees(), -180.0, 180.0, "°");
}

Inputs& refuse_other_years(Inputs& inputs, std::chrono::sys_days day) {
    const int year = static_cast<int>(std::chrono::year_month_day{day}.year());
    return inputs.within("year", year, 1950, 2050, "");
}

enum class Event { Rise, Noon, Set };

// The hour angle at which the event comes, in degrees; none when the sun stays up or down.
std::optional<double> event_hour_angle(Event event, double latitude, double declination) {
    if (event == Event::Noon) return 0.0;
    const double cosine =
        (sin_deg(rise_elevation_deg) - std::sin(latitude) * std::sin(declination)) /
        (std::cos(latitude) * std::cos(declination));
    if (!(cosine >= -1.0 && cosine <= 1.0)) return std::nullopt;
    const double angle = std::acos(cosine) / radian;
    return event == Event::Rise ? -angle : angle;
}

// Hours of UT since the midnight of `day`.
std::optional<double> event_ut(Event event, std::chrono::sys_days day, const Place& place) {
    const double midnight =
        static_cast<double>(std::chrono::sys_seconds{day}.time_since_epoch().count());
    const double longitude = place.longitude.in_degrees();
    double ut = 12.0 - longitude / 15.0;
    for (int round = 0; round < 50; ++round) {
        const auto sun = apparent_sun(midnight + ut * 3600.0, longitude);
        const auto wanted = event_hour_angle(event, place.latitude.in_radians(), sun.declination);
        if (!wanted) return std::nullopt;
        const double step = half_turned(*wanted - sun.hour_angle_deg) / turn_per_hour_deg;
        ut += step;
        if (std::abs(step) < 1.0 / 3600.0) return ut;
    }
    // Only where the sun grazes the horizon for the whole day, which is no event to plan by.
    return std::nullopt;
}

}  // namespace

Result<SunPosition> sun_position(std::chrono::sys_seconds utc, const Place& place,
                                 const StationAir& air) {
    Inputs inputs{"sun position"};
    refuse_elsewhere(inputs, place);
    refuse_other_years(inputs, std::chrono::floor<std::chrono::days>(utc))
        .within("air pressure", air.pressure.in_kilopascals(), 30.0, 110.0, "kPa")
        .within("air temperature", air.temperature.in_celsius(), -80.0, 60.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double phi = place.latitude.in_radians();
    const auto sun = apparent_sun(static_cast<double>(utc.time_since_epoch().count()),
                                  place.longitude.in_degrees());
    const double delta = sun.declination;
    const double h = sun.hour_angle_deg * radian;
    const double sin_elevation =
        std::sin(delta) * std::sin(phi) + std::cos(delta) * std::cos(phi) * std::cos(h);
    const double elevation = std::asin(std::clamp(sin_elevation, -1.0, 1.0)) / radian;
    const double from_south =
        std::atan2(std::sin(h), std::cos(h) * std::sin(phi) - std::tan(delta) * std::cos(phi));
    return SunPosition{
        .zenith = Angle::degrees(90.0 - elevation),
        .apparent_zenith = Angle::degrees(90.0 - elevation - refraction_deg(elevation, air)),
        .azimuth = Angle::degrees(turned(from_south / radian + 180.0)),
        .distance_au = sun.distance_au};
}

Result<Angle> incidence(const SunAndCollector& geometry) {
    const double z = geometry.sun_zenith.in_radians();
    const double beta = geometry.tilt.in_radians();
    const double between =
        geometry.sun_azimuth.in_radians() - geometry.collector_azimuth.in_radians();
    Inputs inputs{"angle of incidence"};
    inputs.within("sun's zenith angle", geometry.sun_zenith.in_degrees(), 0.0, 180.0, "°")
        .within("tilt", geometry.tilt.in_degrees(), 0.0, 180.0, "°")
        .within("sun's azimuth", geometry.sun_azimuth.in_degrees(), -360.0, 360.0, "°")
        .within("collector's azimuth", geometry.collector_azimuth.in_degrees(), -360.0, 360.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double cosine =
        std::cos(z) * std::cos(beta) + std::sin(z) * std::sin(beta) * std::cos(between);
    return Angle::radians(std::acos(std::clamp(cosine, -1.0, 1.0)));
}

Result<SunTimes> sun_times(std::chrono::sys_days local_date, const Place& place,
                           units::Time clock_offset) {
    const double offset_h = clock_offset.si() / 3600.0;
    Inputs inputs{"sun times"};
    refuse_elsewhere(inputs, place);
    refuse_other_years(inputs, local_date)
        .within("offset of the clock", offset_h, -12.0, 14.0, "h");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto local = [&](std::optional<double> ut) -> std::optional<units::Time> {
        if (!ut) return std::nullopt;
        return units::hours(*ut + offset_h);
    };
    const auto noon = local(event_ut(Event::Noon, local_date, place));
    if (!noon)
        return refused({"Noon was not found for this place and date.", "sun times",
                        "Check latitude, longitude and date.", ProblemKind::Unreadable});
    return SunTimes{.rise = local(event_ut(Event::Rise, local_date, place)),
                    .noon = *noon,
                    .set = local(event_ut(Event::Set, local_date, place))};
}

}  // namespace wm::plant
