// Small drawings that show how something is measured or fitted, and how it is not.
#pragma once

#include <optional>
#include <string_view>

#include "drawing/canvas.hpp"

namespace wm::figures {

enum class Sketch {
    Torque,          ///< wrench square to the bolt, pull at the grip, stop at the click
    Tilt,            ///< inclinometer on the frame of the collector
    ShadowAzimuth,   ///< shadow of a plumb line at solar noon is the true north-south line
    LoopSlope,       ///< loop pipes rise without a dip
    Refractometer,   ///< a drop on the prism, the edge of the shade on the scale
    DischargePipe,   ///< falls, full bore, open and seen
    InsulationEnds,  ///< covered up to the fitting, cover against sun over it
    Ladder,          ///< 65 to 75 degrees, a metre over the eaves, tied
    PipeSensor,      ///< sensor flat on bare pipe, strapped, wrapped
    HoldingTest,     ///< pump shut off, gauge at the lowest point, air out
    TapTemperature,  ///< thermometer in the stream until it stands
};

/// The sketch that belongs to a check; nullopt where words say it as well.
[[nodiscard]] std::optional<Sketch> sketch_of(std::string_view check);

/// What a listener is told in place of the drawing.
[[nodiscard]] std::string_view words_of(Sketch sketch);

/// Fills the box with equal scales both ways, in the middle; 12 : 7 fits without a rest. Below 60 mm of width the words in
/// it are too small to read.
void draw_sketch(drawing::Canvas& on, drawing::Box into, Sketch sketch);

}  // namespace wm::figures
