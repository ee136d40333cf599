#include "plant/derived.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plant/copper_tube.hpp"
#include "plant/expansion.hpp"
#include "plant/glycol.hpp"
#include "plant/inputs.hpp"

namespace wm::plant {

using units::Angle;
using units::Area;
using units::Force;
using units::GaugePressure;
using units::Length;
using units::Mass;
using units::Temperature;
using units::TemperatureRise;
using units::Volume;

namespace {

constexpr double gravity = 9.81;              // as the formulas of the checks print it
constexpr double water_j_per_litre_k = 4186;  // likewise
constexpr double least_altitude_m = -500.0;

double turned(double degrees) {
    const double rest = std::fmod(degrees, 360.0);
    return rest < 0.0 ? rest + 360.0 : rest;
}

double litres_of(Volume volume) {
    return volume.si() * 1e3;
}

}  // namespace

Result<units::AbsolutePressure> station_pressure(Length altitude) {
    Inputs inputs{"air pressure of the place"};
    inputs.within("altitude", altitude.si(), least_altitude_m, 11000.0, "m");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::AbsolutePressure::kilopascals(
        101.325 * std::pow(1.0 - 2.25577e-5 * altitude.si(), 5.25588));
}

Result<Temperature> boiling_point_at(Length altitude) {
    Inputs inputs{"boiling point of the place"};
    inputs.within("altitude", altitude.si(), least_altitude_m, 5000.0, "m");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return Temperature::celsius(100.0 - altitude.si() / 300.0);
}

Result<Angle> true_bearing(const CompassBearing& bearing) {
    const double magnetic = bearing.magnetic.in_degrees();
    const double declination = bearing.declination.in_degrees();
    Inputs inputs{"true bearing"};
    inputs.within("compass bearing", magnetic, -360.0, 360.0, "°")
        .within("declination", declination, -180.0, 180.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return Angle::degrees(turned(magnetic + declination));
}

Result<Angle> bearing_gap(Angle one, Angle other) {
    Inputs inputs{"gap between bearings"};
    inputs.within("bearing", one.in_degrees(), -360.0, 360.0, "°")
        .within("other bearing", other.in_degrees(), -360.0, 360.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double gap = turned(one.in_degrees() - other.in_degrees());
    return Angle::degrees(std::min(gap, 360.0 - gap));
}

Result<Angle> bearing_to_equator(Angle latitude) {
    Inputs inputs{"bearing to the equator"};
    inputs.within("latitude", latitude.in_degrees(), -90.0, 90.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return Angle::degrees(latitude.in_degrees() >= 0.0 ? 180.0 : 0.0);
}

Result<Angle> best_tilt(Angle latitude, const Conventions& by) {
    const double least = by.tilt_least.in_degrees();
    const double most = by.tilt_most.in_degrees();
    Inputs inputs{"best tilt"};
    inputs.within("latitude", latitude.in_degrees(), -90.0, 90.0, "°")
        .holds(least <= most, "The least tilt is above the greatest.",
               "Change the settings of the tilt.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double wanted = std::abs(latitude.in_degrees()) + by.tilt_over_latitude.in_degrees();
    return Angle::degrees(std::clamp(wanted, least, most));
}

Result<Mass> set_mass(const SetParts& parts, const Conventions& by) {
    const Mass frame = parts.frame.value_or(by.frame_mass);
    Inputs inputs{"mass of the full set"};
    inputs.not_negative("dry mass of the tank", parts.tank_dry.si(), "kg")
        .not_negative("content of the tank", litres_of(parts.tank), "L")
        .not_negative("content of the jacket", litres_of(parts.jacket), "L")
        .not_negative("mass of the collector", parts.collector.si(), "kg")
        .not_negative("content of the collector", litres_of(parts.collector_content), "L")
        .not_negative("mass of the frame", frame.si(), "kg");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto kilogram_per_litre = units::Density::from_si(1000.0);
    return parts.tank_dry + parts.collector + frame +
           kilogram_per_litre * (parts.tank + parts.jacket + parts.collector_content);
}

Result<units::PressureDifference> wind_pressure(units::Speed gust, const Conventions& by) {
    Inputs inputs{"wind pressure"};
    inputs.within("gust", gust.si(), 0.0, 100.0, "m/s")
        .positive("air density", by.air_density.si(), "kg/m³");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return 0.5 * by.air_density * gust * gust;
}

Result<Force> uplift(units::PressureDifference wind, Area collector, const Conventions& by) {
    Inputs inputs{"uplift"};
    inputs.not_negative("wind pressure", wind.si(), "Pa")
        .positive("collector area", collector.si(), "m²")
        .positive("net wind factor", by.net_wind_factor, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.net_wind_factor * wind * collector;
}

Result<int> fixings_needed(const Fixing& fixing, const Conventions& by) {
    constexpr double most = 1000.0;
    const double demand = by.uplift_factor * fixing.uplift.si();
    const double resistance = fixing.design_resistance.si();
    Inputs inputs{"number of fixings"};
    inputs.not_negative("uplift", fixing.uplift.si(), "N")
        .positive("design resistance of one fixing", fixing.design_resistance.si(), "N")
        .positive("uplift factor", by.uplift_factor, "")
        .holds(demand < most * resistance, "More than a thousand of these fixings would be needed.",
               "Check the resistance of one fixing and its unit.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    // Exactly n must not become n + 1 by rounding.
    return std::max(by.fixings_least, static_cast<int>(std::ceil(demand / resistance * (1.0 - 1e-12))));
}

Result<Force> proof_pull(Force uplift, int fixings, const Conventions& by) {
    Inputs inputs{"proof load of an anchor"};
    inputs.not_negative("uplift", uplift.si(), "N")
        .within("number of fixings", fixings, 1, 1000, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.proof_pull_factor * uplift / fixings;
}

Result<Area> pipe_content(Length outside) {
    return tube_dimensions({outside, units::millimetres(1.0)}).map([](const TubeDimensions& tube) {
        return tube.content;
    });
}

Result<Volume> loop_volume(const LoopParts& parts) {
    Inputs inputs{"volume of the loop"};
    inputs.not_negative("content of the collector", litres_of(parts.collector), "L")
        .not_negative("content of the jacket", litres_of(parts.jacket), "L")
        .not_negative("run of loop pipe", parts.run.si(), "m");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto content = pipe_content(parts.outside);
    if (!content) return tl::unexpected(content.error());
    return parts.collector + parts.jacket + parts.run * *content;
}

Result<Temperature> freezing_point_needed(Temperature lowest_air, const Conventions& by) {
    Inputs inputs{"freezing point needed"};
    inputs.within("lowest air temperature", lowest_air.in_celsius(), -60.0, 40.0, "°C")
        .not_negative("frost margin", by.frost_margin.si(), "K");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return lowest_air - by.frost_margin;
}

Result<double> glycol_percent(Temperature freezing_point_needed, const Conventions& by) {
    constexpr double step = 5.0;
    constexpr double strongest_in_table = 50.0;
    Inputs inputs{"strength of glycol"};
    inputs.within("freezing point needed", freezing_point_needed.in_celsius(), -100.0, 40.0, "°C")
        .within("weakest mixture", by.glycol_least_pct, 0.0, strongest_in_table, "%")
        .within("strongest mixture", by.glycol_most_pct, 0.0, strongest_in_table, "%");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double aim = (freezing_point_needed - by.glycol_step_margin).in_celsius();
    const double first = std::ceil(by.glycol_least_pct / step) * step;
    for (double percent = first; percent <= by.glycol_most_pct; percent += step) {
        const auto freezing = glycol_freezing_point(percent);
        if (!freezing) return tl::unexpected(freezing.error());
        // The table has one decimal; a margin met to its last digit is met.
        if (freezing->in_celsius() <= aim + 1e-9) return percent;
    }
    return refused({fmt::format("No mixture up to {:.0f} % stays liquid down to {:.1f} °C.",
                                by.glycol_most_pct, aim),
                    "strength of glycol",
                    "Fit no indirect set here without the maker's written leave.",
                    ProblemKind::Refused});
}

Result<Volume> glycol_concentrate(Volume loop, double percent, const Conventions& by) {
    Inputs inputs{"litres of glycol"};
    inputs.positive("volume of the loop", litres_of(loop), "L")
        .within("strength", percent, 0.0, 100.0, "%");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return loop * (percent / 100.0) + by.concentrate_spare;
}

Result<Volume> glycol_premix(Volume loop, const Conventions& by) {
    Inputs inputs{"litres of ready mixture"};
    inputs.positive("volume of the loop", litres_of(loop), "L");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return loop + by.premix_spare;
}

Result<GaugePressure> test_pressure(const TestedZone& zone, const Conventions& by) {
    const auto refuse_vented = [](Inputs& inputs, std::string_view name, const auto& limit) {
        if (limit) inputs.positive(name, limit->in_kilopascals(), "kPa");
    };
    Inputs inputs{"test pressure"};
    inputs.positive("relief setting", zone.relief.in_kilopascals(), "kPa")
        .within("height of the relief valve above the gauge", zone.relief_above_gauge.si(), -100.0,
                100.0, "m")
        .positive("highest pressure of the tank", zone.tank_most.in_kilopascals(), "kPa")
        .within("share of the relief setting", by.test_share, 0.1, 1.0, "");
    refuse_vented(inputs, "highest pressure of the collector", zone.collector_most);
    refuse_vented(inputs, "relief setting of the heater", zone.heater_relief);
    refuse_vented(inputs, "highest pressure of the heater", zone.heater_most);
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto column = units::pascals(1000.0 * gravity * zone.relief_above_gauge.si());
    GaugePressure test = by.test_share * zone.relief + column;
    test = std::min(test, zone.tank_most);
    if (zone.collector_most) test = std::min(test, *zone.collector_most);
    if (zone.heater_relief) test = std::min(test, by.test_share * *zone.heater_relief);
    if (zone.heater_most) test = std::min(test, *zone.heater_most);
    inputs.holds(test.in_pascals() > 0.0, "The gauge would show no pressure at all.",
                 "Put the gauge lower, or check the height of the relief valve.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return test;
}

Result<GaugePressure> highest_supply_pressure(GaugePressure relief,
                                              std::optional<GaugePressure> heater_relief,
                                              const Conventions& by) {
    Inputs inputs{"highest supply pressure"};
    inputs.positive("relief setting", relief.in_kilopascals(), "kPa");
    if (heater_relief)
        inputs.positive("relief setting of the heater", heater_relief->in_kilopascals(), "kPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.test_share * std::min(relief, heater_relief.value_or(relief));
}

Result<Volume> heating_expansion(Volume store, Volume heater, Temperature hottest) {
    constexpr double fill = 15.0;
    Inputs inputs{"expansion on heating"};
    inputs.not_negative("volume of the store", litres_of(store), "L")
        .not_negative("volume of the heater", litres_of(heater), "L")
        .within("highest temperature", hottest.in_celsius(), fill, 200.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto grown = expansion_volume({store + heater, Temperature::celsius(fill), hottest});
    if (!grown) return tl::unexpected(grown.error());
    return grown->volume;
}

Result<Length> pipe_growth(Length pipe, TemperatureRise rise, const Conventions& by) {
    Inputs inputs{"growth of a pipe"};
    inputs.not_negative("length of pipe", pipe.si(), "m")
        .within("rise", rise.si(), -300.0, 300.0, "K");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return pipe * units::ratio(by.copper_growth * rise, units::Quantity<0, 0, 0>::from_si(1.0));
}

Result<Length> discharge_length(Length run, int elbows, DischargeSize size, const Conventions& by) {
    Inputs inputs{"length of the discharge pipe"};
    inputs.not_negative("run", run.si(), "m").within("number of elbows", elbows, 0, 100, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const Length elbow = size == DischargeSize::Od22 ? by.elbow_22 : by.elbow_28;
    return run + elbow * static_cast<double>(elbows);
}

Result<TemperatureRise> expected_loop_rise(units::Irradiance sun, const Conventions& by) {
    Inputs inputs{"rise across the loop"};
    inputs.within("sun", sun.si(), 0.0, 1500.0, "W/m²");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.loop_rise_at_800 * std::sqrt(sun.si() / 800.0);
}

Result<TemperatureRise> day_rise(units::Irradiation day, Area collector, Volume store,
                                 const Conventions& by) {
    Inputs inputs{"rise in a day"};
    inputs.within("sun of the day", day.si() / 1e6, 0.0, 45.0, "MJ/m²")
        .positive("collector area", collector.si(), "m²")
        .positive("volume of the store", litres_of(store), "L");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::kelvins(by.day_gain * day.si() * collector.si() /
                          (litres_of(store) * water_j_per_litre_k));
}

Result<TemperatureRise> hour_rise(units::Irradiance sun, Area collector, Volume store,
                                  const Conventions& by) {
    Inputs inputs{"rise in an hour"};
    inputs.within("sun", sun.si(), 0.0, 1500.0, "W/m²")
        .positive("collector area", collector.si(), "m²")
        .positive("volume of the store", litres_of(store), "L");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::kelvins(by.hour_gain * sun.si() * collector.si() * 3600.0 /
                          (litres_of(store) * water_j_per_litre_k));
}

Result<TemperatureRise> night_drop(const Night& night) {
    Inputs inputs{"drop over a night"};
    inputs.within("temperature at dusk", night.at_dusk.in_celsius(), -50.0, 200.0, "°C")
        .within("mean air temperature", night.mean_air.in_celsius(), -80.0, 60.0, "°C")
        .positive("heat loss", night.loss.si(), "W/K")
        .not_negative("length of the night", night.length.si() / 3600.0, "h")
        .positive("volume of the store", litres_of(night.store), "L");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double capacity = litres_of(night.store) * water_j_per_litre_k;
    return (night.at_dusk - night.mean_air) *
           -std::expm1(-night.loss.si() * night.length.si() / capacity);
}

Result<units::Resistance> element_resistance(units::Voltage plate_voltage,
                                             units::Power plate_power) {
    Inputs inputs{"resistance of an element"};
    inputs.positive("voltage on the plate", plate_voltage.si(), "V")
        .positive("power on the plate", plate_power.si(), "W");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return plate_voltage * plate_voltage / plate_power;
}

Temperature outlet_most(Household household, const Conventions& by) {
    return household == Household::Vulnerable ? by.outlet_most_vulnerable : by.outlet_most;
}

units::Torque default_anchor_torque(BoltSize size) {
    switch (size) {
        case BoltSize::M6:
            return units::newton_metres(5.5);
        case BoltSize::M8:
            return units::newton_metres(13.5);
        case BoltSize::M10:
            return units::newton_metres(27.0);
        case BoltSize::M12:
            return units::newton_metres(47.0);
    }
    return units::newton_metres(5.5);
}

}  // namespace wm::plant
