// The line of hills, houses and trees around a place, and whether the sun stands behind it.
#pragma once

#include <string_view>
#include <vector>

#include "plant/sun.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// How high something reaches, seen from the lower edge of the collector.
struct HorizonPoint {
    units::Angle azimuth;  ///< clockwise from true north
    units::Angle height;   ///< over the level
};

/// In the order of the azimuths, each once. Empty: nothing stands around.
using Horizon = std::vector<HorizonPoint>;

/// Pairs of azimuth and height in degrees, parted by semicolons: "90:12; 135:8.5; 250:20". Azimuth
/// 0 to 360, height 0 to 89. Refuses what is no pair, and an azimuth that stands twice.
[[nodiscard]] Result<Horizon> read_horizon(std::string_view text);

/// A straight line from each point to the next, all the way round; one point alone counts for the
/// whole circle. Common practice, no source. Trap: a lone mast between two points is not seen.
[[nodiscard]] units::Angle height_of(const Horizon& line, units::Angle azimuth);

/// Whether the centre of the sun, as the eye sees it, stands below the line.
[[nodiscard]] bool is_hidden(const SunPosition& sun, const Horizon& line);

}  // namespace wm::plant
