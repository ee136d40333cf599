// Shares by how many tries stand behind each, within the room that chance alone needs.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::figures {

struct FunnelMark {
    std::string name;
    double tries = 0.0;
    double share = 0.0;    ///< 0 to 1
    bool outside = false;  ///< of the outer limits
};

/// The limits at one number of tries, as shares.
struct FunnelStep {
    double tries = 0.0;
    double low95 = 0.0, high95 = 0.0, low998 = 0.0, high998 = 0.0;
};

struct FunnelChart {
    double target = 0.0;
    std::vector<FunnelMark> marks;
    std::vector<FunnelStep> steps;  ///< at rising tries
    double text_mm = 2.6;
};

/// Fills the box: tries from left to right, the share in per cent upwards, the target as a dashed
/// line, 95 % and 99.8 % as two pairs of lines. A mark outside is a filled square with a ring and its
/// name, any other a small disc with its name where there is room. Gives the places of the marks.
std::vector<drawing::Point> draw_funnel_chart(drawing::Canvas& on, drawing::Box into, const FunnelChart& chart);

}  // namespace wm::figures
