// Shapes put together from the strokes of a Canvas: dashes, arcs, hatching, arrows.
#pragma once

#include <vector>

#include "drawing/canvas.hpp"

namespace wm::drawing {

/// A dashed line; dash and gap in millimetres, both above 0. Ends with a whole or cut dash.
struct Dash {
    double dash_mm = 1.2;
    double gap_mm = 0.8;
};
void dashed_line(Canvas& on, Point from, Point to, Stroke with, Dash pattern = {});

/// Part of a circle. Angles in degrees, 0 to the right, growing clockwise on the sheet.
struct Arc {
    Point centre;
    double radius_mm = 1.0;
    double from_deg = 0.0;
    double to_deg = 90.0;
};
[[nodiscard]] std::vector<Point> points_of(const Arc& arc);
void stroke_arc(Canvas& on, const Arc& arc, Stroke with);

/// Lines at 45° inside the box, clipped to it, `pitch_mm` apart (at least 0.2).
void hatch(Canvas& on, Box box, double pitch_mm, Stroke with);

/// A line with a filled head at `to`; the head is `head_mm` long.
void arrow(Canvas& on, Point from, Point to, double head_mm, Stroke with);

}  // namespace wm::drawing
