// Where the sun stands, how squarely it strikes the collector, and when it rises and sets.
#pragma once

#include <chrono>
#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// North and east are positive.
struct Place {
    units::Angle latitude;
    units::Angle longitude;
};

/// What bends the light: pressure at the station (not reduced to sea level) and temperature.
struct StationAir {
    units::AbsolutePressure pressure = units::AbsolutePressure::kilopascals(101.325);
    units::Temperature temperature = units::Temperature::celsius(15.0);
};

struct SunPosition {
    units::Angle zenith;           ///< of the centre, as if there were no air
    units::Angle apparent_zenith;  ///< with refraction, what the eye and the collector see
    units::Angle azimuth;          ///< clockwise from true north, 0 to 360°
    double distance_au = 1.0;      ///< of the sun
};

/// The almanac's low-precision series for longitude, obliquity and sidereal time, then spherical
/// trigonometry; refraction is added while the sun is up. 1950 to 2050, within 0.01° there.
/// Source: Michalsky 1988, Solar Energy 40(3):227-235; refraction Reda & Andreas,
/// NREL/TP-560-34302. Traps: the time is UTC, so offset and summer time come off first; many
/// texts count azimuth from south.
[[nodiscard]] Result<SunPosition> sun_position(std::chrono::sys_seconds utc, const Place& place,
                                               const StationAir& air = {});

/// Of the sun: zenith as refracted, azimuth from north. Of the collector: slope against the
/// horizontal, azimuth from north of the direction it faces.
struct SunAndCollector {
    units::Angle sun_zenith;
    units::Angle sun_azimuth;
    units::Angle tilt;
    units::Angle collector_azimuth;
};

/// Angle between the sun and the normal of the collector, 0° to 180°; above 90° the sun is behind.
/// Zenith 0° to 180°, tilt 0° to 180°. Source: spherical trigonometry, NREL/TP-560-34302, 3.15.
[[nodiscard]] Result<units::Angle> incidence(const SunAndCollector& geometry);

/// Hours after local midnight of the given date; the sun's events may lie beyond 0 to 24 where
/// the clock is far from the sun. No rise or set in polar day or night.
struct SunTimes {
    std::optional<units::Time> rise;
    units::Time noon;
    std::optional<units::Time> set;
};

/// Rise and set are where the true zenith of the centre is 90.8333° (34′ refraction, 16′ radius),
/// found by stepping from local noon until the step is below one second. 1950 to 2050; the offset
/// of the clock −12 h to 14 h. Source: Explanatory Supplement to the Astronomical Almanac (from
/// memory). Trap: hills and roofs are not in it.
[[nodiscard]] Result<SunTimes> sun_times(std::chrono::sys_days local_date, const Place& place,
                                         units::Time clock_offset);

}  // namespace wm::plant
