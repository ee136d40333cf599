// Where on the plant drawing each check has its place.
#pragma once

#include <array>
#include <string_view>

#include "drawing/canvas.hpp"

namespace wm::figures {

/// Parts of the plant (and of the visit) that checks belong to.
enum class Station {
    Sky,     ///< sun and weather
    People,  ///< who works, what was shown, papers
    Roof,
    Collector,
    Store,
    Relief,
    Loop,
    Feed,
    Filling,  ///< filling and pressure test
    Heater,
    Controller,
    Taps,
    Lagging,
};
inline constexpr std::array all_stations{
    Station::Sky,        Station::People, Station::Roof,   Station::Collector, Station::Store,
    Station::Relief,     Station::Loop,   Station::Feed,   Station::Filling,   Station::Heater,
    Station::Controller, Station::Taps,   Station::Lagging};

/// The word printed over the station's checks.
[[nodiscard]] std::string_view name_of(Station station);

/// Every id of the shipped checklists has its place; an unknown one belongs to People, whose list
/// is about the visit as a whole.
[[nodiscard]] Station station_of(std::string_view check);

inline constexpr double plant_width = 200.0;
inline constexpr double plant_height = 128.0;

/// Where a station's pins are laid out, in the drawing's own coordinates (0…plant_width,
/// 0…plant_height). The racks keep clear of the parts, of each other and of their names.
[[nodiscard]] drawing::Box rack_of(Station station);

}  // namespace wm::figures
