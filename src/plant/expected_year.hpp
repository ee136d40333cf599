// What a year may bring a house: sun on its collector, water to heat, heat from the sun.
#pragma once

#include <vector>

#include "plant/horizon.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// The sky over a collector. `sunshine` is the mean share of the daylight with bright sun, 0 to 1.
struct SkyOfPlace {
    units::Angle latitude;
    units::Angle tilt;     ///< 0° to 90°
    units::Angle azimuth;  ///< clockwise from true north
    units::AbsolutePressure pressure;
    double sunshine = 0.5;
    Horizon horizon{};  ///< what stands around; empty = open to the level
};

/// The sun of a mean day of the month (1 to 12) on the collector. Under bright sun it is the clear
/// sky's; for the rest of the daylight a third of it comes, all of it diffuse, so that the sum on
/// the level is that of Ångström's law with 0.25 and 0.50. Summed in steps of 15 minutes.
/// Sources: FAO Irrigation and Drainage Paper 56 (1998), eq. 35 to 37; days that stand for their
/// month: Klein, Solar Energy 19 (1977) 325-329 (from memory). Behind the horizon line the sun itself is
/// gone, the light of the sky is left whole (common practice, no source). Traps: a tree grows; the
/// share of a year hides wet and dry seasons.
[[nodiscard]] Result<units::Irradiation> mean_day_on_plane(const SkyOfPlace& sky, int month);

/// The share of the direct sun on the collector that the horizon line takes on the mean day of the
/// month, 0 to 1, under a clear sky from morning to evening; 0 where no direct sun would strike it
/// anyway. Geometry of the sun's path, no other source.
[[nodiscard]] Result<double> shaded_share(const SkyOfPlace& sky, int month);

/// Mean temperatures of the coldest and warmest month of the northern year's ends.
struct AirOfPlace {
    units::Temperature january;
    units::Temperature july;
};

/// Mean air of a month (1 to 12): a cosine through January and July, 15 days after the solstices.
/// Common practice, no source.
[[nodiscard]] units::Temperature mean_air(const AirOfPlace& air, int month);

/// Water of the main in a month: 3.3 K (6 °F) above the mean air of the year, a damped and delayed
/// cosine of it; never below 1 °C. Source: Burch & Christensen, Towards development of an algorithm
/// for mains water temperature, ASES 2007 (from memory). Trap: made for one country's mains.
[[nodiscard]] units::Temperature mains_water(const AirOfPlace& air, int month);

struct HouseInSun {
    SkyOfPlace sky;
    AirOfPlace air;
    units::Area collector;
    units::Quantity<0, 1, -3, -1> loss_product;
    double optical_product = 0.7;
    double exchanger_ratio = 1.0;
    units::Volume store;
    units::VolumeFlow draw;
    units::Temperature set_point;
};

struct ExpectedMonth {
    int days;
    units::Irradiation day_on_plane;
    units::Temperature air;
    units::Temperature mains;
    units::Energy load;   ///< to heat the water from mains to set point
    units::Energy solar;  ///< of it, from the sun
};

/// January to December.
using ExpectedYear = std::vector<ExpectedMonth>;

/// Month by month by solar_fraction() with an angle ratio of 0.95. Where the collector is larger
/// than the correlation covers for so small a load, only the part of it that is covered is counted,
/// which errs on the low side. Trap: an upper bound for thermosiphons; nothing is taken off here.
[[nodiscard]] Result<ExpectedYear> expected_year(const HouseInSun& house);

}  // namespace wm::plant
