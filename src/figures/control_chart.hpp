// A share or figure week by week, with its centre and its limits.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::figures {

/// `low` and `high` are the limits of this very week (they widen when a week holds few jobs).
struct ControlPoint {
    std::string label;  ///< "W48"
    double value = 0.0;
    double centre = 0.0;
    double low = 0.0;
    double high = 0.0;
    bool signals = false;  ///< a rule says that this is not chance
};

struct ControlChart {
    std::vector<ControlPoint> points;  ///< oldest first
    std::string unit;                  ///< "%", "failures a job"
    double text_mm = 2.6;
};

/// Fills the box. Limits are steps, the centre a dashed line; a signalling point is a filled square
/// with a ring, any other a small disc. Labels that would touch are left out. Gives the places of the points.
std::vector<drawing::Point> draw_control_chart(drawing::Canvas& on, drawing::Box into, const ControlChart& chart);

}  // namespace wm::figures
