#include <charconv>
#include <chrono>

#include "plant/clear_sky.hpp"
#include "plant/sun.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::number_of;
using units::Shape;
using units::text_of;

namespace {

int digits(const std::string& text, std::size_t from, std::size_t count) {
    int value = 0;
    std::from_chars(text.data() + from, text.data() + from + count, value);
    return value;
}

// The texts were checked when they were read; they have the form 2026-06-21T05:30:00Z.
std::chrono::sys_days day_of(const std::string& text) {
    return std::chrono::sys_days{std::chrono::year{digits(text, 0, 4)} /
                                 std::chrono::month{static_cast<unsigned>(digits(text, 5, 2))} /
                                 std::chrono::day{static_cast<unsigned>(digits(text, 8, 2))}};
}

std::chrono::sys_seconds moment_of(const std::string& text) {
    return day_of(text) + std::chrono::hours{digits(text, 11, 2)} +
           std::chrono::minutes{digits(text, 14, 2)} + std::chrono::seconds{digits(text, 17, 2)};
}

Place place_of(const Arguments& a) {
    return {degrees(a, "lat"), degrees(a, "lon")};
}

units::AbsolutePressure millibars(const Arguments& a, std::string_view symbol) {
    return units::AbsolutePressure::pascals(number_or(a, symbol, 1013.25) * 100.0);
}

Outputs evaluate_position(const Arguments& a) {
    return sun_position(moment_of(text_of(a, "utc")), place_of(a),
                        {millibars(a, "P"), units::Temperature::celsius(number_or(a, "T", 15.0))})
        .map([](const SunPosition& sun) {
            return std::vector<Output>{{"zenith", "°", sun.zenith.in_degrees()},
                                       {"app_zenith", "°", sun.apparent_zenith.in_degrees()},
                                       {"azimuth", "°", sun.azimuth.in_degrees()},
                                       {"R_au", "", sun.distance_au}};
        });
}

SunAndCollector geometry(const Arguments& a) {
    return {degrees(a, "Z"), degrees(a, "A_s"), degrees(a, "tilt"), degrees(a, "A_c")};
}

Outputs evaluate_incidence(const Arguments& a) {
    return incidence(geometry(a)).map([](units::Angle theta) {
        return std::vector<Output>{{"theta", "°", theta.in_degrees()}};
    });
}

units::OutputValue hours_or_none(const std::optional<units::Time>& time) {
    if (!time) return std::monostate{};
    return time->si() / 3600.0;
}

Outputs evaluate_times(const Arguments& a) {
    return sun_times(day_of(text_of(a, "date")), place_of(a), units::hours(number_of(a, "tz")))
        .map([](const SunTimes& times) {
            return std::vector<Output>{{"rise", "h", hours_or_none(times.rise)},
                                       {"noon", "h", hours_or_none(times.noon)},
                                       {"set", "h", hours_or_none(times.set)}};
        });
}

Outputs evaluate_simple(const Arguments& a) {
    return clear_global(degrees(a, "Z")).map([](units::Irradiance g) {
        return std::vector<Output>{{"G", "W/m²", g.si()}};
    });
}

Outputs evaluate_clear_sky(const Arguments& a) {
    const ClearAir usual;
    return clear_sky(degrees(a, "Z"),
                     {.pressure = millibars(a, "P"),
                      .ozone = units::Length::from_si(number_or(a, "U_o", 0.3) / 100.0),
                      .water = units::Length::from_si(number_or(a, "U_w", 1.5) / 100.0),
                      .aerosol_380 = number_or(a, "tau380", usual.aerosol_380),
                      .aerosol_500 = number_or(a, "tau500", usual.aerosol_500),
                      .forward_share = number_or(a, "B_a", usual.forward_share),
                      .ground_reflection = number_or(a, "rho_g", usual.ground_reflection),
                      .outside_air = si_or(a, "I0", usual.outside_air)})
        .map([](const ClearSky& sky) {
            return std::vector<Output>{{"I", "W/m²", sky.beam.si()},
                                       {"G", "W/m²", sky.global.si()},
                                       {"D", "W/m²", sky.diffuse.si()}};
        });
}

Outputs evaluate_tilted(const Arguments& a) {
    const std::string& model = text_of(a, "model");
    if (model != "isotropic" && model != "anisotropic")
        return refused({"\"" + model + "\" is no model of the sky.",
                        "work-out tilted-irradiance, model", "Write isotropic or anisotropic.",
                        ProblemKind::Unreadable});
    const auto diffuse = si<units::Irradiance>(a, "D_");
    const bool all = is_given(a, "Z") && is_given(a, "A_s") && is_given(a, "A_c") &&
                     is_given(a, "I") && is_given(a, "G");
    const bool any = is_given(a, "Z") || is_given(a, "A_s") || is_given(a, "A_c") ||
                     is_given(a, "I") || is_given(a, "G");
    if (!any && model == "isotropic")
        return isotropic_sky(diffuse, degrees(a, "tilt")).map([](units::Irradiance sky) {
            return std::vector<Output>{{"sky", "W/m²", sky.si()}};
        });
    if (!all)
        return no_complete_form(
            "tilted-irradiance",
            "Z, A_s, A_c, I and G as well; the isotropic sky alone needs only tilt and D_");
    const SkyOnPlane usual{.geometry = geometry(a),
                           .beam = si<units::Irradiance>(a, "I"),
                           .diffuse = diffuse,
                           .global = si<units::Irradiance>(a, "G")};
    auto sky = usual;
    sky.outside_air = si_or(a, "I0", usual.outside_air);
    sky.ground_reflection = number_or(a, "rho_g", usual.ground_reflection);
    sky.model = model == "isotropic" ? SkyModel::Isotropic : SkyModel::Anisotropic;
    return irradiance_on_plane(sky).map([](const OnPlane& plane) {
        return std::vector<Output>{{"theta", "°", plane.incidence.in_degrees()},
                                   {"sky", "W/m²", plane.sky.si()},
                                   {"G_T", "W/m²", plane.total.si()}};
    });
}

}  // namespace

std::vector<units::Computation> sun_computations() {
    const auto latitude = needs("lat", "°", "the latitude, north positive", "-90 to 90");
    const auto longitude = needs("lon", "°", "the longitude, east positive", "-180 to 180");
    const auto zenith = needs("Z", "°", "the zenith angle of the sun, refracted", "0 to 180");
    return {
        {.name = "sun-position",
         .title = "Where the sun stands",
         .on_site = "For incidence and shade at the time of a reading.",
         .equation = "Low-precision almanac series, spherical trigonometry, refraction while the "
                     "sun is up.",
         .source = "Michalsky 1988, Solar Energy 40(3):227-235; Reda & Andreas, NREL/TP-560-34302",
         .range = "1950 to 2050; within 0.02°.",
         .inputs = {shaped(Shape::Moment, needs("utc", "", "the date and time in UTC")), latitude,
                    longitude,
                    may("P", "mbar", "the air pressure of the place; 1013.25 if left out"),
                    may("T", "°C", "the air temperature; 15 if left out")},
         .outputs = {needs("zenith", "°", "true zenith angle"),
                     needs("app_zenith", "°", "refracted zenith angle"),
                     needs("azimuth", "°", "azimuth, clockwise from north"),
                     needs("R_au", "", "distance of the sun in astronomical units")},
         .evaluate = evaluate_position},
        {.name = "sun-incidence",
         .title = "Angle of incidence on the collector",
         .on_site = "How squarely the direct sun strikes.",
         .equation = "Cosine rule of spherical trigonometry.",
         .source = "NREL/TP-560-34302, section 3.15",
         .range = "Above 90° the sun is behind the collector.",
         .inputs = {zenith, needs("A_s", "°", "the sun's azimuth from north"),
                    needs("tilt", "°", "the tilt of the collector"),
                    needs("A_c", "°", "the azimuth the collector faces, from north")},
         .outputs = {needs("theta", "°", "angle of incidence")},
         .evaluate = evaluate_incidence},
        {.name = "sun-times",
         .title = "Sunrise, solar noon and sunset",
         .on_site = "Plans the window of a test.",
         .equation = "True zenith 90.8333°, by steps from local noon.",
         .source = "Explanatory Supplement to the Astronomical Almanac (from memory)",
         .range = "1950 to 2050; no rise and set in polar day and night.",
         .inputs = {shaped(Shape::Date, needs("date", "", "the local date")), latitude, longitude,
                    needs("tz", "h", "the offset of the clock from UTC, with summer time",
                          "-12 to 14")},
         .outputs = {needs("rise", "h", "sunrise, local clock"),
                     needs("noon", "h", "solar noon, local clock"),
                     needs("set", "h", "sunset, local clock")},
         .evaluate = evaluate_times},
        {.name = "clear-sky-simple",
         .title = "Clear-sky sun on the horizontal, one line",
         .on_site =
             "A ceiling for a hand-held reading; beside bright clouds 1.2 times may be real.",
         .equation = "1098 cos Z exp(-0.059/cos Z), nothing when the sun is down.",
         .source = "Haurwitz 1945; constants after Reno, Hansen & Stein, SAND2012-2389",
         .range = "0° to 180°.",
         .inputs = {zenith},
         .outputs = {needs("G", "W/m²", "global horizontal")},
         .evaluate = evaluate_simple},
        {.name = "clear-sky",
         .title = "Clear-sky direct, diffuse and global sun",
         .on_site = "Splits the sun into beam and sky for a tilted roof. A screen, never a limit.",
         .equation = "Product of the transmittances of air, ozone, water, gases and aerosol.",
         .source = "Bird & Hulstrom, SERI/TR-642-761 (1981)",
         .range = "Zenith 0° to 88°; claimed within 10 %.",
         .inputs = {needs("Z", "°", "the zenith angle of the sun", "0 to 88"),
                    may("P", "mbar", "the air pressure of the place; 1013.25 if left out"),
                    may("U_o", "cm", "the ozone layer; 0.3 if left out"),
                    may("U_w", "cm", "the water in the air; 1.5 if left out"),
                    may("tau380", "", "the aerosol depth at 380 nm; 0.15 if left out"),
                    may("tau500", "", "the aerosol depth at 500 nm; 0.1 if left out"),
                    may("B_a", "", "the forward share of aerosol; 0.85 if left out"),
                    may("rho_g", "", "the reflection of the ground; 0.2 if left out"),
                    may("I0", "W/m²", "the sun outside the air; 1361.1 if left out")},
         .outputs = {needs("I", "W/m²", "direct normal"), needs("G", "W/m²", "global horizontal"),
                     needs("D", "W/m²", "diffuse horizontal")},
         .evaluate = evaluate_clear_sky},
        {.name = "tilted-irradiance",
         .title = "Sun on the tilted collector",
         .on_site = "Turns horizontal values into what the collector sees.",
         .equation = "Beam by incidence, sky by the model, ground by its reflection.",
         .source = "Liu & Jordan 1963 (isotropic); Hay & Davies 1980 (anisotropic)",
         .range = "The isotropic sky alone needs only tilt and D_.",
         .inputs = {may("Z", "°", "the zenith angle of the sun, refracted"),
                    may("A_s", "°", "the sun's azimuth from north"),
                    needs("tilt", "°", "the tilt of the collector"),
                    may("A_c", "°", "the azimuth the collector faces, from north"),
                    may("I", "W/m²", "the direct normal sun"),
                    needs("D_", "W/m²", "the diffuse horizontal sun"),
                    may("G", "W/m²", "the global horizontal sun"),
                    may("rho_g", "", "the reflection of the ground; 0.2 if left out"),
                    shaped(Shape::Text,
                           needs("model", "", "the model of the sky, isotropic or anisotropic")),
                    may("I0", "W/m²", "the sun outside the air; 1361.1 if left out")},
         .outputs = {needs("theta", "°", "angle of incidence"),
                     needs("sky", "W/m²", "diffuse sun from the sky"),
                     needs("G_T", "W/m²", "sun on the collector")},
         .evaluate = evaluate_tilted},
    };
}

}  // namespace wm::plant::tables
