// The parts of the plant drawing, each drawn in full or faint. Used by plant_figure only.
#pragma once

#include <array>

#include "figures/frame.hpp"
#include "figures/plant_figure.hpp"

namespace wm::figures {

/// How a part is drawn: faint until its checks conform.
enum class Finish { Sketched, Complete };

using Finishes = std::array<Finish, all_stations.size()>;

[[nodiscard]] inline Finish finish_of(const Finishes& finishes, Station station) {
    return finishes[static_cast<std::size_t>(station)];
}

/// The point of the plant that a station's checks are about, in the drawing's own coordinates.
[[nodiscard]] drawing::Point part_of(Station station, const PlantShape& shape);

/// Everything but the pins, in the order from back to front.
void draw_plant_parts(drawing::Canvas& on, const Frame& frame, const PlantShape& shape,
                      const Finishes& finishes);

}  // namespace wm::figures
