#include "plant/clear_sky.hpp"

#include <algorithm>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::Irradiance;
using units::watts_per_square_metre;

namespace {

constexpr double brightest = 2000.0;  // W/m²; nothing on earth is brighter
constexpr double least_cos_zenith = 0.01745;

double ozone_transmittance(double x) {
    return 1.0 - 0.1611 * x * std::pow(1.0 + 139.48 * x, -0.3034) -
           0.002715 * x / (1.0 + 0.044 * x + 0.0003 * x * x);
}

double water_transmittance(double x) {
    return 1.0 - 2.4959 * x / (std::pow(1.0 + 79.034 * x, 0.6828) + 6.385 * x);
}

double aerosol_transmittance(double depth, double m) {
    return std::exp(-std::pow(depth, 0.873) * (1.0 + depth - std::pow(depth, 0.7088)) *
                    std::pow(m, 0.9108));
}

double half_sky(double tilt) {
    return (1.0 + std::cos(tilt)) / 2.0;
}

}  // namespace

Result<Irradiance> clear_global(units::Angle zenith) {
    Inputs inputs{"clear sky"};
    inputs.within("zenith angle", zenith.in_degrees(), 0.0, 180.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double cosine = std::cos(zenith.in_radians());
    if (cosine <= 0.0) return watts_per_square_metre(0.0);
    return watts_per_square_metre(1098.0 * cosine * std::exp(-0.059 / cosine));
}

Result<ClearSky> clear_sky(units::Angle zenith, const ClearAir& air) {
    const double z = zenith.in_degrees();
    Inputs inputs{"clear sky"};
    inputs.within("zenith angle", z, 0.0, 88.0, "°")
        .within("air pressure", air.pressure.in_kilopascals(), 30.0, 110.0, "kPa")
        .within("ozone", air.ozone.si() * 100.0, 0.0, 1.0, "cm")
        .within("water in the air", air.water.si() * 100.0, 0.0, 10.0, "cm")
        .within("aerosol depth at 380 nm", air.aerosol_380, 0.0, 3.0, "")
        .within("aerosol depth at 500 nm", air.aerosol_500, 0.0, 3.0, "")
        .within("forward share", air.forward_share, 0.0, 1.0, "")
        .within("reflection of the ground", air.ground_reflection, 0.0, 1.0, "")
        .within("sun outside the air", air.outside_air.si(), 1000.0, brightest, "W/m²");
    if (inputs.complaint()) return refused(*inputs.complaint());

    const double cosine = std::cos(zenith.in_radians());
    const double i0 = air.outside_air.si();
    const double b = air.forward_share;
    const double m = 1.0 / (cosine + 0.15 * std::pow(93.885 - z, -1.253));
    const double mp = m * air.pressure.in_pascals() / 101325.0;
    const double t_air = std::exp(-0.0903 * std::pow(mp, 0.84) * (1.0 + mp - std::pow(mp, 1.01)));
    const double t_ozone = ozone_transmittance(air.ozone.si() * 100.0 * m);
    const double t_gas = std::exp(-0.0127 * std::pow(mp, 0.26));
    const double t_water = water_transmittance(air.water.si() * 100.0 * m);
    const double t_aerosol =
        aerosol_transmittance(0.2758 * air.aerosol_380 + 0.35 * air.aerosol_500, m);
    const double t_absorbed = 1.0 - 0.1 * (1.0 - m + std::pow(m, 1.06)) * (1.0 - t_aerosol);
    const double scattered_by_aerosol = 1.0 - t_aerosol / t_absorbed;
    const double sky_reflection = 0.0685 + (1.0 - b) * scattered_by_aerosol;

    const double beam = 0.9662 * i0 * t_aerosol * t_water * t_gas * t_ozone * t_air;
    const double scattered = i0 * cosine * 0.79 * t_ozone * t_water * t_gas * t_absorbed *
                             (0.5 * (1.0 - t_air) + b * scattered_by_aerosol) /
                             (1.0 - m + std::pow(m, 1.02));
    const double global =
        (beam * cosine + scattered) / (1.0 - air.ground_reflection * sky_reflection);
    return ClearSky{.beam = watts_per_square_metre(beam),
                    .global = watts_per_square_metre(global),
                    .diffuse = watts_per_square_metre(global - beam * cosine)};
}

Result<Irradiance> outside_air(double distance_au) {
    Inputs inputs{"sun outside the air"};
    inputs.within("distance of the sun", distance_au, 0.95, 1.05, "au");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return watts_per_square_metre(1361.1 / (distance_au * distance_au));
}

Result<Irradiance> isotropic_sky(Irradiance diffuse, units::Angle tilt) {
    Inputs inputs{"sky on a tilted plane"};
    inputs.within("diffuse sun", diffuse.si(), 0.0, brightest, "W/m²")
        .within("tilt", tilt.in_degrees(), 0.0, 180.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return diffuse * half_sky(tilt.in_radians());
}

Result<OnPlane> irradiance_on_plane(const SkyOnPlane& sky) {
    Inputs inputs{"sun on a tilted plane"};
    inputs.within("direct sun", sky.beam.si(), 0.0, brightest, "W/m²")
        .within("diffuse sun", sky.diffuse.si(), 0.0, brightest, "W/m²")
        .within("global sun", sky.global.si(), 0.0, brightest, "W/m²")
        .within("sun outside the air", sky.outside_air.si(), 1000.0, brightest, "W/m²")
        .within("reflection of the ground", sky.ground_reflection, 0.0, 1.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto theta = incidence(sky.geometry);
    if (!theta) return tl::unexpected(theta.error());
    const double tilt = sky.geometry.tilt.in_radians();
    const double square_on = std::max(0.0, std::cos(theta->in_radians()));
    double diffuse_share = half_sky(tilt);
    if (sky.model == SkyModel::Anisotropic) {
        const double clearness = units::ratio(sky.beam, sky.outside_air);
        const double cos_zenith =
            std::max(std::cos(sky.geometry.sun_zenith.in_radians()), least_cos_zenith);
        diffuse_share = clearness * square_on / cos_zenith + (1.0 - clearness) * half_sky(tilt);
    }
    const auto from_sky = sky.diffuse * diffuse_share;
    const auto from_ground = sky.global * (sky.ground_reflection * (1.0 - std::cos(tilt)) / 2.0);
    return OnPlane{.incidence = *theta,
                   .sky = from_sky,
                   .total = sky.beam * square_on + from_sky + from_ground};
}

}  // namespace wm::plant
