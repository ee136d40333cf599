#include "desk/beforehand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>

#include "checklist/facts.hpp"
#include "measure/leak.hpp"
#include "plant/clear_sky.hpp"
#include "plant/collector.hpp"
#include "plant/derived.hpp"
#include "plant/sun.hpp"
#include "plant/warm_up.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

using Sentences = std::vector<std::string>;
using units::Angle;

std::string rounded(double value, int decimals) { return units::print_number(value, decimals); }

std::optional<double> fact(const JobInHand& job, std::string_view key) {
    const auto amount = job.facts().number(key);
    return amount ? std::optional{amount->si} : std::nullopt;
}

// --- how long the holding test must run ----------------------------------------------------------

void hold_time(const JobInHand& job, const checklist::Check& check, Sentences& out) {
    if (!check.series || !check.series->duration || !check.series->allowed_drop || !check.unit || !check.instrument)
        return;
    const auto gauge = instrument_for(job, *check.instrument, "");
    if (!gauge) {
        out.push_back("How fine the gauge is decides how long the test must run. Choose the gauge first.");
        return;
    }
    const auto marks = units::read_amount(gauge->card.resolution, *check.unit, "resolution");
    if (!marks || marks->amount().si <= 0.0) return;
    const double minutes = check.series->duration->si / 60.0;
    const double rate = check.series->allowed_drop->in(*check.unit) / minutes;
    const auto shortest = measure::shortest_hold({.resolution = marks->amount().in(*check.unit),
                                                  .scatter = 0.0,
                                                  .allowed_rate = rate,
                                                  .readings = check.series->min_points,
                                                  .confidence = 0.95});
    if (!shortest) return;
    const std::string what = fmt::format("With {} (marks of {}) {} readings", gauge->card.id, gauge->card.resolution,
                                         check.series->min_points);
    const std::string allowed = fmt::format("a leak of {} {} a minute, the most allowed", rounded(rate, 1),
                                            check.unit->symbol);
    // And the leak must move the needle by a whole mark: see trend_of.
    const double needed = std::max(*shortest, marks->amount().in(*check.unit) / rate);
    if (needed <= minutes)
        out.push_back(fmt::format("{} over {} minutes can already show {}; {} minutes are asked for.", what,
                                  rounded(std::ceil(needed), 0), allowed, rounded(minutes, 0)));
    else
        out.push_back(fmt::format("{} need {} minutes to show {}. Let the test run that long, or take a finer gauge.",
                                  what, rounded(std::ceil(needed), 0), allowed));
}

// --- the sun -------------------------------------------------------------------------------------

struct SunNow {
    plant::SunPosition position;
    plant::StationAir air;
};

std::optional<SunNow> sun_now(const JobInHand& job, Moment now) {
    const auto latitude = fact(job, "site.latitude");
    const auto longitude = fact(job, "site.longitude");
    if (!latitude || !longitude) return std::nullopt;
    // Barometric formula of the standard atmosphere, ISO 2533:1975.
    const double altitude = fact(job, "site.altitude_m").value_or(0.0);
    plant::StationAir air;
    air.pressure = units::AbsolutePressure::kilopascals(101.325 * std::pow(1.0 - 2.25577e-5 * altitude, 5.25588));
    const std::chrono::sys_seconds utc{std::chrono::seconds{now.wall_ms / 1000}};
    const auto position =
        plant::sun_position(utc, {Angle::radians(*latitude), Angle::radians(*longitude)}, air);
    if (!position) return std::nullopt;
    return SunNow{*position, air};
}

double height_deg(const SunNow& sun) { return 90.0 - sun.position.apparent_zenith.in_degrees(); }

// Sun on the collector's plane under a clear sky, W/m².
std::optional<double> clear_on_plane(const JobInHand& job, const SunNow& sun) {
    const auto tilt = fact(job, "sys.tilt_target");
    const auto faces = fact(job, "sys.az_target");
    if (!tilt || !faces || height_deg(sun) < 5.0) return std::nullopt;
    const auto outside = plant::outside_air(sun.position.distance_au);
    if (!outside) return std::nullopt;
    plant::ClearAir air;
    air.pressure = sun.air.pressure;
    air.outside_air = *outside;
    const auto sky = plant::clear_sky(sun.position.apparent_zenith, air);
    if (!sky) return std::nullopt;
    const auto on_plane = plant::irradiance_on_plane({.geometry = {sun.position.apparent_zenith, sun.position.azimuth,
                                                                   Angle::radians(*tilt), Angle::radians(*faces)},
                                                      .beam = sky->beam,
                                                      .diffuse = sky->diffuse,
                                                      .global = sky->global,
                                                      .outside_air = *outside});
    return on_plane ? std::optional{on_plane->total.si()} : std::nullopt;
}

void sun_on_plane(const JobInHand& job, Moment now, Sentences& out) {
    const auto sun = sun_now(job, now);
    if (!sun) {
        out.push_back("With latitude and longitude of the site the tool says what a clear sky gives right now.");
        return;
    }
    if (height_deg(*sun) < 5.0) {
        out.push_back("The sun is down, or just above the horizon: nothing can be said of the set now.");
        return;
    }
    if (const auto clear = clear_on_plane(job, *sun))
        out.push_back(fmt::format(
            "Under a clear sky this plane gets about {} W/m² now (sun {}° high), give or take 10 %. Much more is a "
            "slip or a bright cloud beside the sun; much less is cloud or shade.",
            rounded(std::round(*clear / 10.0) * 10.0, 0), rounded(height_deg(*sun), 0)));
}

void true_north(const JobInHand& job, Moment now, Sentences& out) {
    const auto turned = [](double degrees) { return std::fmod(std::fmod(degrees, 360.0) + 360.0, 360.0); };
    const auto target = fact(job, "sys.az_target");
    const auto declination = fact(job, "site.declination_deg");
    constexpr double to_degrees = 57.29577951308232;
    if (target && declination)
        out.push_back(fmt::format("Compass: {}° on the needle is {}° from true north here.",
                                  rounded(turned((*target - *declination) * to_degrees), 1),
                                  rounded(*target * to_degrees, 0)));
    const auto sun = sun_now(job, now);
    if (!sun || height_deg(*sun) < 5.0) return;
    const double azimuth = sun->position.azimuth.in_degrees();
    out.push_back(fmt::format("Plumb line: the sun stands at {}° now, so its shadow points to {}° from true north.",
                              rounded(azimuth, 0), rounded(turned(azimuth + 180.0), 0)));
}

// --- what the loop and the store should do -------------------------------------------------------

struct SunTaken {
    double watts = 0.0;
    double share = 0.1;  ///< standard uncertainty as a share
    std::string from;
};

std::optional<SunTaken> sun_taken(Assessment& assessment, Moment now) {
    const auto& job = assessment.job();
    if (const auto entered = fact(job, "wx.irradiance")) return SunTaken{*entered, 0.05, "the sun entered"};
    const auto value_of = assessment.context().value_of;
    if (value_of)
        if (const auto measured = value_of(checklist::CheckId{"sun-window"}))
            return SunTaken{measured->si, 0.05, "the sun measured"};
    if (const auto sun = sun_now(job, now))
        if (const auto clear = clear_on_plane(job, *sun)) return SunTaken{*clear, 0.10, "a clear sky"};
    return std::nullopt;
}

void loop_rise(Assessment& assessment, Moment now, Sentences& out) {
    const auto& job = assessment.job();
    const auto sun = sun_taken(assessment, now);
    if (!sun || sun->watts < 100.0) return;
    const auto irradiance = units::watts_per_square_metre(sun->watts);
    const std::string under = fmt::format("Under {} ({} W/m²)", sun->from, rounded(std::round(sun->watts / 10.0) * 10.0, 0));
    if (const auto rise = plant::expected_loop_rise(irradiance)) {
        // The rise goes with the root of the sun (half its share); pipes and rise of the loop make the rest:
        // 0.30 of the figure, common practice, no source.
        const double u = rise->si() * std::hypot(0.5 * sun->share, 0.30);
        out.push_back(fmt::format("{} riser and downcomer should differ by about {} K (standard uncertainty {} K).",
                                  under, rounded(rise->si(), 0), rounded(u, 0)));
    }
    const auto area = fact(job, "sys.coll_m2");
    const auto litres = fact(job, "sys.tank_l");
    const auto loss = fact(job, "sys.ua_wk");
    if (!area || !litres || !loss) return;
    const auto capacity =
        plant::store_capacity(units::Mass::from_si(*litres * 1000.0), units::HeatCapacity::from_si(20'000.0));
    if (!capacity) return;
    // A flat plate with one pane and a selective coat: common practice, no source.
    const plant::SolarStore store{.capacity = *capacity,
                                  .collector = units::Area::from_si(*area),
                                  .curve = {.optical = 0.75,
                                            .loss = plant::LossCoefficient::from_si(4.0),
                                            .quadratic_loss = plant::QuadraticLossCoefficient::from_si(0.01)},
                                  .loss = units::Conductance::from_si(*loss),
                                  .fluid_over_store = units::kelvins(5.0),
                                  .sun = irradiance,
                                  .air = units::Temperature::celsius(20.0)};
    const auto start = units::Temperature::celsius(20.0);
    const auto end = plant::temperature_after(store, start, units::Time::from_si(3600.0));
    if (!end) return;
    const double hour = end->in_kelvin() - start.in_kelvin();
    const double u = hour * std::hypot(sun->share, 0.05, 0.05);
    out.push_back(fmt::format(
        "An hour of this sun should warm the whole store by about {} K (standard uncertainty {} K), with nobody drawing "
        "and the electric heating off; near the top it may lead by 10 K and more.",
        rounded(hour, 1), rounded(u, 1)));
}

}  // namespace

std::vector<std::string> beforehand(Assessment& assessment, const checklist::Check& check, Moment now) {
    Sentences out;
    for (const auto what : check.works_out) {
        switch (what) {
            case checklist::WorkedOut::HoldTime: hold_time(assessment.job(), check, out); break;
            case checklist::WorkedOut::SunOnPlane: sun_on_plane(assessment.job(), now, out); break;
            case checklist::WorkedOut::TrueNorth: true_north(assessment.job(), now, out); break;
            case checklist::WorkedOut::LoopRise: loop_rise(assessment, now, out); break;
        }
    }
    return out;
}

}  // namespace wm::desk
