// The graphical symbols of the plant drawing, in the manner of ISO 14617.
// Source for the shapes: ISO 14617-8 (valves), 14617-6 (measuring); forms from memory.
#pragma once

#include "drawing/canvas.hpp"
#include "figures/frame.hpp"

namespace wm::figures {

/// Where a symbol sits in the drawing's own coordinates, its half length along the pipe, and the
/// direction of flow in degrees (0 right, 90 down, 270 up).
struct Seat {
    drawing::Point centre;
    double half = 2.4;
    double flow_deg = 0.0;
};

void draw_stop_valve(drawing::Canvas& on, const Frame& frame, const Seat& seat);
void draw_strainer(drawing::Canvas& on, const Frame& frame, const Seat& seat);
void draw_pressure_limiter(drawing::Canvas& on, const Frame& frame, const Seat& seat);
void draw_non_return(drawing::Canvas& on, const Frame& frame, const Seat& seat);
/// The outlet points to the right of the flow; the spring stands over the seat.
void draw_relief_valve(drawing::Canvas& on, const Frame& frame, const Seat& seat);
void draw_mixing_valve(drawing::Canvas& on, const Frame& frame, const Seat& seat);
void draw_gauge(drawing::Canvas& on, const Frame& frame, drawing::Point centre, double radius);
void draw_expansion_vessel(drawing::Canvas& on, const Frame& frame, drawing::Point centre,
                           double radius);
void draw_tap(drawing::Canvas& on, const Frame& frame, drawing::Point mouth);
void draw_tundish(drawing::Canvas& on, const Frame& frame, drawing::Point rim);
void draw_sun(drawing::Canvas& on, const Frame& frame, drawing::Point centre, double radius);
void draw_earth(drawing::Canvas& on, const Frame& frame, drawing::Point top);

}  // namespace wm::figures
