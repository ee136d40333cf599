#include "desk/beforehand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>

#include "checklist/conventions.hpp"
#include "checklist/facts.hpp"
#include "checklist/heat_gain.hpp"
#include "checklist/loop_expectation.hpp"
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

// A check with a duration, an allowed drop, a unit and an instrument.
void hold_with(const checklist::InstrumentInUse& gauge, const checklist::Check& check, Sentences& out) {
    const auto marks = units::read_amount(gauge.card.resolution, *check.unit, "resolution");
    if (!marks || marks->amount().si <= 0.0) return;
    const double minutes = check.series->duration->si / 60.0;
    const double rate = check.series->allowed_drop->in(*check.unit) / minutes;
    const auto shortest = measure::shortest_hold({.resolution = marks->amount().in(*check.unit),
                                                  .scatter = 0.0,
                                                  .allowed_rate = rate,
                                                  .readings = check.series->min_points,
                                                  .confidence = 0.95});
    if (!shortest) return;
    const std::string what = fmt::format("With {} (marks of {}) {} readings", gauge.card.id, gauge.card.resolution,
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

// Of several gauges each is told of: which of them is taken is the crew's choice.
void hold_time(const JobInHand& job, const checklist::Check& check, Sentences& out) {
    if (!check.series || !check.series->duration || !check.series->allowed_drop || !check.unit || !check.instrument)
        return;
    bool any = false;
    for (const auto& tool : job.instruments()) {
        if (tool.card.type != *check.instrument) continue;
        any = true;
        hold_with(tool, check, out);
    }
    if (!any) out.push_back("How fine the gauge is decides how long the test must run. Choose the gauge first.");
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
    const auto pressure =
        plant::station_pressure(units::Length::from_si(fact(job, "site.altitude_m").value_or(0.0)));
    if (!pressure) return std::nullopt;
    plant::StationAir air;
    air.pressure = *pressure;
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

// The store of this job under the sun of now; the water begins as warm as the air.
std::optional<plant::SolarStore> store_under(const JobInHand& job, const checklist::Context& context, const SunTaken& sun) {
    const auto set = checklist::solar_store_of(context);
    const auto irradiance = units::watts_per_square_metre(sun.watts);
    const auto loop = plant::expected_loop_rise(irradiance, checklist::conventions_of(context.library));
    if (!set || !loop) return std::nullopt;
    auto store = *set;
    store.sun = irradiance;
    store.fluid_over_store = *loop * 0.5;
    store.air = units::Temperature::kelvin(fact(job, "wx.t_air").value_or(293.15));
    return store;
}

std::string under(const SunTaken& sun) {
    return fmt::format("Under {} ({} W/m²)", sun.from, rounded(std::round(sun.watts / 10.0) * 10.0, 0));
}

void store_in_an_hour(const plant::SolarStore& store, const SunTaken& sun, Sentences& out) {
    const auto start = store.air;
    const auto end = plant::temperature_after(store, start, units::Time::from_si(3600.0));
    if (!end) return;
    const double hour = end->in_kelvin() - start.in_kelvin();
    const double u = hour * std::hypot(sun.share, 0.05, checklist::capacity_doubt);
    out.push_back(fmt::format(
        "{} an hour should warm the whole store by about {} K (standard uncertainty {} K), with nobody drawing "
        "and the electric heating off; near the top it may lead by 10 K and more.",
        under(sun), rounded(hour, 1), rounded(u, 1)));
}

void loop_rise(Assessment& assessment, Moment now, Sentences& out) {
    const auto& job = assessment.job();
    const auto sun = sun_taken(assessment, now);
    if (!sun || sun->watts < 100.0) return;
    const auto context = assessment.context();
    const auto irradiance = units::watts_per_square_metre(sun->watts);
    const auto store = store_under(job, context, *sun);
    const auto loop = store ? checklist::loop_of(context, *store) : std::nullopt;
    const auto shown = loop ? checklist::loop_expected(*loop, sun->share) : std::nullopt;
    if (shown) {
        out.push_back(fmt::format("{} this loop should drive about {} L a minute, with {} K between riser and downcomer "
                                  "(standard uncertainty {} K).",
                                  under(*sun), rounded(shown->litres_a_minute, 1), rounded(shown->rise.value, 0),
                                  rounded(shown->rise.standard_uncertainty, 0)));
    } else if (const auto rise = plant::expected_loop_rise(irradiance, checklist::conventions_of(context.library))) {
        // The rise goes with the root of the sun (half its share); pipes and rise of the loop make the rest:
        // 0.30 of the figure, common practice, no source.
        const double u = rise->si() * std::hypot(0.5 * sun->share, 0.30);
        out.push_back(fmt::format("{} riser and downcomer should differ by about {} K (standard uncertainty {} K).",
                                  under(*sun), rounded(rise->si(), 0), rounded(u, 0)));
    }
    if (store) store_in_an_hour(*store, *sun, out);
}

void heat_gain(Assessment& assessment, const checklist::Check& check, Moment now, Sentences& out) {
    const auto& job = assessment.job();
    const auto sun = sun_taken(assessment, now);
    if (!sun || sun->watts < 100.0) return;
    const auto context = assessment.context();
    const auto store = store_under(job, context, *sun);
    if (!store) return;
    store_in_an_hour(*store, *sun, out);
    const auto used = check.instrument ? instrument_for(job, *check.instrument, "") : std::nullopt;
    if (!used) return;
    const auto marks = units::read_amount(used->card.resolution, *units::unit_named("K"), "resolution");
    if (!marks) return;
    // Two readings of one thermometer: their difference is known to twice its marks (k = 2).
    const double u_of_one = marks->amount().si / std::sqrt(2.0);
    const double expected = store->collector.si() * store->curve.optical * sun->watts;
    const auto wait = plant::shortest_window({.uncertainty = units::kelvins(u_of_one),
                                              .capacity = store->capacity,
                                              .expected = units::watts(expected)});
    if (!wait) return;
    const double planned = check.series && check.series->duration ? check.series->duration->si : 0.0;
    const double minutes = std::ceil(std::max(wait->si(), planned) / 60.0);
    out.push_back(fmt::format("With {} (marks of {}) leave {} minutes between the first and the last reading: then the "
                              "thermometer takes no more than a twentieth of the answer.",
                              used->card.id, used->card.resolution, rounded(minutes, 0)));
}

}  // namespace

std::vector<std::string> beforehand(Assessment& assessment, const checklist::Check& check, Moment now) {
    Sentences out;
    // Why the visit was made is what the household is asked about first.
    if (check.id.text == "svc-complaints")
        for (const auto& [origin, note] : assessment.job().state().notes)
            if (note.check.empty()) out.push_back(record::shown(note.text));
    for (const auto what : check.works_out) {
        switch (what) {
            case checklist::WorkedOut::HoldTime: hold_time(assessment.job(), check, out); break;
            case checklist::WorkedOut::SunOnPlane: sun_on_plane(assessment.job(), now, out); break;
            case checklist::WorkedOut::TrueNorth: true_north(assessment.job(), now, out); break;
            case checklist::WorkedOut::LoopRise: loop_rise(assessment, now, out); break;
            case checklist::WorkedOut::HeatGain: heat_gain(assessment, check, now, out); break;
        }
    }
    return out;
}

}  // namespace wm::desk
